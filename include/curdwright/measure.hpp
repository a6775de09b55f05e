// SPDX-License-Identifier: MIT
/// \file measure.hpp
/// What a cook can measure or tell in the middle of a batch, and how it is read.
///
///     Result<Reading> r = read_reading("soaked=1552g-bowl", kitchen, "--measured");
///     print(r->what->word, r->si);               // "soaked", kilograms without the bowl
///
/// What the cook sets (water, times, temperatures, coagulant used) is a setting as done and overrides the
/// job. What the cook weighs, reads or times is observed: it is a figure of the plan with an error, and it
/// moves the beliefs, never a stream.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "curdwright/figures.hpp"
#include "curdwright/resolve.hpp"
#include "curdwright/units.hpp"

namespace curdwright {

/// One row of the table of what can be told.
struct Measurable {
  std::string_view word;              ///< "pulp"; milk has two rows, one for each kind
  Stage stage;                        ///< amounts of this stage and of those before it are used up
  std::optional<QuantityKind> kind;   ///< none: a plain number
  std::optional<Figure> observes;     ///< none: a setting as done
  void (*set)(Setup&, double si);     ///< none: an observation
  double (*planned)(const Setup&);    ///< of a setting, what a sized batch has; none where nothing is planned
  double to_figure;                   ///< from SI, or the plain number, to the unit of the figure
  double low, high;                   ///< in SI, or of the plain number
  double minutes;                     ///< of hands that measuring takes; judgement
  bool over;                          ///< whether the stage is over when this can be told
  std::string_view example;
  std::string_view about;

  /// "kg", "m3", "K", "s", "m"; empty: a share or a plain number.
  [[nodiscard]] std::string_view si_unit() const;
  /// Read off an instrument, though maybe of no figure of the plan; else something as it was done.
  [[nodiscard]] bool measured() const { return observes || minutes > 0; }
};
std::span<const Measurable> all_measurables();

/// What was told, once it is understood.
struct Reading {
  const Measurable* what = nullptr;
  double si = 0;          ///< without the vessel; a plain number as it is
  int weighings = 1;      ///< that were added up
  std::string told;       ///< as it was written, after the equals sign

  /// In the unit of its figure.
  [[nodiscard]] double figure_value() const { return si * what->to_figure; }
};

/// A figure as it was seen, with its error: the scale's step and the figure's typical error.
struct Observation {
  Figure what = Figure::curd_mass;
  double value = 0;   ///< in the unit of the figure, above zero
  double spread = 0;  ///< standard deviation of its logarithm
};
/// \returns nothing for a setting as done
std::optional<Observation> observed(const Reading& reading, const Kitchen& kitchen);

/// Reads "WORD=VALUE". A mass may be a sum of weighings, each with its vessel: "3.1kg-bucket+2.9kg-0.4kg".
/// A vessel is a pot or a tare of the kitchen, by name, or its weight. Problem: `measured`.
/// \param option what the place of a problem is called
Result<Reading> read_reading(std::string_view text, const Kitchen& kitchen, std::string_view option);

/// Readings of one batch: every fault of all of them, and a word that is told twice.
Result<std::vector<Reading>> read_readings(std::span<const std::string> texts, const Kitchen& kitchen, std::string_view option);

}  // namespace curdwright
