// SPDX-License-Identifier: MIT
// Draws recipes at random, always the same ones, and writes what `plan` makes of them for a judge in another language.
//   peer_jobs write FILE COUNT     rows of doubles after one line of names
//   peer_jobs simple FILE COUNT    the same, of recipes that a spreadsheet can follow
//   peer_jobs time COUNT           for each line on the input one pass over all jobs: its seconds
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <iostream>
#include <random>

#include "laws/recipes.hpp"
#include "peers/job_row.hpp"

using namespace curdwright;
using namespace curdwright::test;

namespace {

constexpr std::uint64_t seed = 20'261'128;

struct Case {
  Job job;
  Theta theta;
};

std::string extras_text(Reach reach) {
  static const std::vector<std::string> ids = Catalogue::shipped().extra_ids();
  std::string list;
  for (int i = whole(1, 8); i > 0; --i) {
    const std::string& id = draw::one_of(ids);
    draw::Object o;
    o.due("what", "\"" + id + "\"");
    o.maybe("stage", "\"" + draw::one_of(words_of(Catalogue::shipped().extra(id)->stages)) + "\"");
    if (once_in(2)) o.due("amount", draw::amount(draw::spread(0.5, reach == Reach::any ? 1e4 : 50), "g"));
    else o.due("to_dry", draw::number(draw::spread(0.001, reach == Reach::any ? 1 : 0.05)));
    list += (list.empty() ? "" : ", ") + o.str();
  }
  return "[" + list + "]";
}

Drawn drawn_recipe() {
  const Reach reach = once_in(3) ? Reach::any : Reach::sensible;
  Drawn d = draw::anything(reach, "{\"dry\": " + draw::amount(draw::spread(0.1, 50), "kg") + "}");
  if (once_in(4)) d.recipe = d.recipe.substr(0, d.recipe.size() - 1) + ", \"extras\": " + extras_text(reach) + "}";
  return d;
}

/// What sizing a batch would set, and what a recipe tells in kilograms.
void set_batch(Job& job, std::mt19937_64& random) {
  const auto chance = [&](int n) { return random() % static_cast<std::uint64_t>(n) == 0; };
  const auto upto = [&](int n) { return static_cast<int>(1 + random() % static_cast<std::uint64_t>(n)); };
  job.starch.vessels = upto(3);
  job.cook.pots = upto(3);
  job.coagulate.pots = job.cook.pots;
  if (chance(10)) job.blend.basis = WaterBasis::grinding_to_dry;
  if (chance(10)) job.blend.basis = WaterBasis::grinding_mass, job.blend.water *= job.dry.si();
  if (chance(10)) job.coagulate.used = job.dry * (0.02 * upto(3));
}

/// One temperature, all that can settle settled, a moisture that is told: what a spreadsheet need not integrate.
void simplify(Job& job) {
  job.soak.water_at = job.soak.seed_at = job.soak.surroundings = job.room = celsius(20);
  job.soak.changes = 0;
  job.legume_count = 1;
  job.seeds[0].share = 1;
  job.extra_count = 0;
  job.strain.wash_count = std::min<std::size_t>(job.strain.wash_count, 1);
  job.strain.washes[0].blend = seconds(0);
  job.starch.depth = centimetres(10);
  job.starch.time = hours(24 * 365);
  job.starch.times = 1;
  job.starch.remove = StarchRemoval::settle;
  job.press.moisture = 0.8;
}

Case make_case(std::uint64_t number, bool simple) {
  const Drawn d = rc::gen::exec(drawn_recipe)(rc::Random(seed + number), 100).value();
  const Setup s = setup_for(d);
  std::mt19937_64 random(seed + number);
  std::normal_distribution<double> normal;
  std::vector<double> z(s.beliefs.size());
  for (double& x : z) x = normal(random);
  Case c{s.job, s.beliefs.at(z)};
  set_batch(c.job, random);
  if (simple) simplify(c.job);
  return c;
}

/// Of simple recipes only those that end in curd are of use, and GDL takes an integral.
bool is_simple(const Case& c) { return c.job.coagulate.kind != CoagulantKind::lactone && plan(c.job, c.theta).whole(); }

std::vector<Case> make_cases(std::size_t count, bool simple) {
  std::vector<Case> cases;
  for (std::uint64_t number = 0; cases.size() < count; ++number) {
    Case c = make_case(number, simple);
    if (!simple || is_simple(c)) cases.push_back(c);
  }
  return cases;
}

int write(const char* file, std::size_t count, bool simple) {
  std::FILE* out = std::fopen(file, "wb");
  if (out == nullptr) return 1;
  bool first = true;
  for (const Case& c : make_cases(count, simple)) {
    peers::Row row;
    row.named = first;
    peers::put_job(row, c.job);
    peers::put_theta(row, c.theta);
    peers::put_plan(row, plan(c.job, c.theta));
    for (std::size_t i = 0; first && i < row.names.size(); ++i) fmt::print(out, "{}{}", i > 0 ? " " : "", row.names[i]);
    if (first) fmt::print(out, "\n");
    first = false;
    std::fwrite(row.values.data(), sizeof(double), row.values.size(), out);
  }
  return std::fclose(out);
}

int time_passes(std::size_t count) {
  const std::vector<Case> cases = make_cases(count, false);
  for (std::string line; std::getline(std::cin, line);) {
    double curd = 0;
    const std::clock_t start = std::clock();  // of the processor: others work here too
    for (const Case& c : cases) curd += plan(c.job, c.theta).pressed.curd.of.total_kg();
    const double took = static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
    fmt::print("{:.9f} {:.9g}\n", took, curd);
    std::fflush(stdout);
  }
  return 0;
}

}  // namespace

int main(int argc, char** argv) {
  const std::string_view what = argc > 1 ? argv[1] : "";
  if (what == "time" && argc == 3) return time_passes(std::strtoul(argv[2], nullptr, 10));
  if ((what == "write" || what == "simple") && argc == 4) return write(argv[2], std::strtoul(argv[3], nullptr, 10), what == "simple");
  fmt::print(stderr, "peer_jobs write|simple FILE COUNT, or time COUNT\n");
  return 2;
}
