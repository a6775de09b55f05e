// SPDX-License-Identifier: MIT
// What many tests need: a batch from recipe text, and comparisons with a unit.
#pragma once

#include <catch2/catch.hpp>
#include <fstream>
#include <sstream>
#include <string>

#include "curdwright/solve.hpp"

namespace curdwright::test {

inline std::string read_file(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream out;
  out << in.rdbuf();
  return out.str();
}

inline std::string from_source(const std::string& path) { return read_file(std::string(CURDWRIGHT_SOURCE_DIR) + "/" + path); }

/// All problems as one text, for failure messages.
inline std::string shown(const Problems& problems) {
  std::string all;
  for (const Problem& p : problems) all += p.code + " " + p.place.pointer + ": " + p.what + " | " + p.why + " | " + p.fix + "\n";
  return all;
}

template <class T>
T must(Result<T> r) {
  if (!r) FAIL(shown(r.error()));
  return std::move(*r);
}

/// Setup of a recipe text in the built-in kitchen, or with values set as the command line does.
inline Setup setup_of(const std::string& recipe, std::vector<std::string> set = {}) {
  const Inputs in = must(read_inputs({recipe, "test.json", std::nullopt, "", std::move(set), {}}));
  return must(resolve(in.recipe, in.kitchen, Catalogue::shipped()));
}

inline Batch batch_of(const std::string& recipe, std::vector<std::string> set = {}) { return must(size_batch(setup_of(recipe, std::move(set)))); }

/// Plan of a recipe at exactly so much dry seed, without rounding.
inline Plan plan_of(const std::string& recipe, double dry_kg = 1.0, std::vector<std::string> set = {}) {
  Setup s = setup_of(recipe, std::move(set));
  s.job.dry = kilograms(dry_kg);
  return plan(s.job, s.beliefs.medians());
}

}  // namespace curdwright::test
