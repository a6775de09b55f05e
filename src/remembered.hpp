// SPDX-License-Identifier: MIT
// Records that were read once and need not be read again.
#pragma once

#include <map>
#include <memory>
#include <mutex>
#include <shared_mutex>
#include <string>
#include <utility>
#include <vector>

#include "curdwright/catalogue.hpp"

namespace curdwright {

/// What was read, by the name that was asked for. Several threads may ask at once; two that ask for the same new record
/// both read it, and one of the two equal readings is kept. What could not be read is not kept: its message may hold the
/// name as it was written.
template <class Record>
class Remembered {
 public:
  template <class Read>
  Result<Record> get(const std::string& name, Read read) {
    if (const auto known = find(name)) return *known;
    Result<Record> fresh = read();
    if (!fresh) return fresh;
    auto keep = std::make_shared<const Record>(*fresh);
    const std::unique_lock lock(mutex_);
    by_name_.emplace(name, std::move(keep));
    return fresh;
  }

 private:
  std::shared_ptr<const Record> find(const std::string& name) const {
    const std::shared_lock lock(mutex_);
    const auto found = by_name_.find(name);
    return found == by_name_.end() ? nullptr : found->second;
  }

  mutable std::shared_mutex mutex_;
  std::map<std::string, std::shared_ptr<const Record>, std::less<>> by_name_;
};

struct Catalogue::Memory {
  Remembered<Legume> legumes;
  Remembered<Coagulant> coagulants;
  Remembered<Extra> extras;
  Remembered<Equipment> equipment;  ///< by kind and name
  Remembered<std::vector<std::pair<Param, Evidence>>> model;
  Remembered<std::vector<Refused>> refused;
};

}  // namespace curdwright
