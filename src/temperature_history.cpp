// SPDX-License-Identifier: MIT
#include "curdwright/temperature_history.hpp"

#include <algorithm>
#include <cmath>

namespace curdwright {

Temperature HistoryPiece::at(Duration since_start) const {
  switch (shape) {
    case Shape::hold: return start;
    case Shape::ramp: return length.si() > 0 ? start + (target - start) * (since_start / length) : target;
    case Shape::relax: return target + (start - target) * std::exp(-(since_start / time_constant));
  }
  return start;
}

Duration HistoryPiece::passes(Temperature level) const {
  const Duration never = seconds(-1);
  const double from = start.si() - level.si();
  const double to = end().si() - level.si();
  if (shape == Shape::hold || from * to >= 0) return never;
  if (shape == Shape::ramp) return length * (from / (from - to));
  return time_constant * std::log((start.si() - target.si()) / (level.si() - target.si()));
}

TemperatureHistory& TemperatureHistory::add(HistoryPiece piece) {
  if (piece.length.si() <= 0) {
    end_ = piece.length.si() < 0 ? end_ : piece.end();
    return *this;
  }
  if (pieces_.size() == capacity) {
    HistoryPiece& last = pieces_.back();
    last = {HistoryPiece::Shape::hold, last.length + piece.length, last.start, {}, {}};
    end_ = last.start;
    return *this;
  }
  pieces_.push_back(piece);
  end_ = piece.end();
  return *this;
}

TemperatureHistory& TemperatureHistory::hold(Duration length) {
  return add({HistoryPiece::Shape::hold, length, end_, end_, {}});
}

TemperatureHistory& TemperatureHistory::ramp(Duration length, Temperature to) {
  return add({HistoryPiece::Shape::ramp, length, end_, to, {}});
}

TemperatureHistory& TemperatureHistory::relax(Duration length, Temperature surroundings, Duration time_constant) {
  return add({HistoryPiece::Shape::relax, length, end_, surroundings, time_constant});
}

TemperatureHistory& TemperatureHistory::jump(Temperature to) {
  end_ = to;
  return *this;
}

Duration TemperatureHistory::length() const {
  Duration sum;
  for (const HistoryPiece& p : pieces()) sum += p.length;
  return sum;
}

Temperature TemperatureHistory::at(Duration since_start) const {
  for (const HistoryPiece& p : pieces()) {
    if (since_start <= p.length) return p.at(since_start);
    since_start -= p.length;
  }
  return end_;
}

Temperature TemperatureHistory::hottest() const {
  Temperature top = !pieces_.empty() ? pieces_[0].start : end_;
  for (const HistoryPiece& p : pieces()) top = std::max({top, p.start, p.end()});
  return top;
}

}  // namespace curdwright
