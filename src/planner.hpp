// SPDX-License-Identifier: MIT
// Who and what is taken when: each chain of operations begins at the first moment at which all that it needs is free.
#pragma once

#include <optional>
#include <vector>

#include "curdwright/schedule.hpp"

namespace curdwright {

/// Times at which so much of something is taken.
class Bookings {
 public:
  explicit Bookings(int capacity) : capacity_(capacity) {}
  void take(Duration from, Duration to, int amount) { taken_.push_back({from.si(), to.si(), amount}); }
  /// Earliest end, in s, of what stands in the way of `amount` more from `from` to `to`; nothing when it is free.
  [[nodiscard]] std::optional<double> blocked_until(double from, double to, int amount) const;

 private:
  struct Taken {
    double from, to;
    int amount;
  };
  [[nodiscard]] std::optional<double> full_at(double moment, int amount) const;

  int capacity_;
  std::vector<Taken> taken_;
};

/// Places chains of operations that follow each other without a pause.
class Planner {
 public:
  Planner(Timeline& out, const Kitchen& kitchen);
  /// \returns index of the last operation placed
  std::size_t place(std::vector<Operation> chain, std::vector<std::size_t> after);
  /// The pot that is free the soonest.
  [[nodiscard]] int pot_for(const std::vector<Operation>& chain, Duration ready) const;
  /// A pot that still holds curd is not free.
  void keep_pot(int pot, Duration from, Duration to) { pots_[static_cast<std::size_t>(pot)].take(from, to, 1); }

 private:
  /// A later start that may do; nothing when this one does.
  [[nodiscard]] std::optional<double> conflict(const std::vector<Operation>& chain, Duration start) const;
  void take(const Operation& o);

  Timeline& out_;
  Bookings hands_, blender_, hob_, moulds_;
  std::vector<Bookings> pots_;
};

}  // namespace curdwright
