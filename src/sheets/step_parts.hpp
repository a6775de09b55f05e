// SPDX-License-Identifier: MIT
// What the steps of a sheet are made of, raw and cooked alike.
#pragma once

#include <initializer_list>
#include <string>

#include "sheets/steps.hpp"

namespace curdwright::sheets {

const Task* task_of(const Kitchenful& k, Step step);
/// A step with its place on the clock, and the cautions that are said in it.
SheetStep begin(const Kitchenful& k, Step step, Stage stage, std::string verb, std::initializer_list<Stage> cautions_of);
/// An expected weight, with its range where there is one.
SheetWeighing expected(const Kitchenful& k, Figure f, std::string what);
/// While it is raw, at every step where hands are in it.
void warn_of_raw_poison(const Kitchenful& k, SheetStep& step);
/// A caution of another stage whose hazard is here already.
void warn_here_too(const Kitchenful& k, SheetStep& step, std::string_view rule);
/// The list that the law of the region asks for; of one region at most.
bool names_allergens(const Caution& c);
/// "12 g salt and 5 g sesame oil": what goes in at a stage, empty when there is nothing.
std::string extras_here(const Kitchenful& k, Stage stage);
/// ", shared out over 2 pots", or nothing for one.
std::string shared_out(int n, std::string_view over);
/// What stands on a tub of what is raw.
std::string_view raw_label(const Kitchenful& k);

/// Once it is cooked.
SheetStep cook_step(const Kitchenful& k);
SheetStep set_step(const Kitchenful& k);
SheetStep press_step(const Kitchenful& k);
SheetStep chill_step(const Kitchenful& k);

}  // namespace curdwright::sheets
