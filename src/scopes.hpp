// SPDX-License-Identifier: MIT
// Whose each belief is: how much of what is not known of a number belongs to the kitchen, to the kitchen with this legume or
// gear, and to the single batch.
//
//     x = link(shipped) + spread * ( sum_k sqrt(share_k) u_k + sqrt(share of the batch) e ),   u_k, e standard normal
//
// so that before anything is learned the spread is the shipped one.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "curdwright/resolve.hpp"

namespace curdwright {

struct Loading {
  std::string name;  ///< as in Learned::names
  double share = 0;  ///< of the variance
};

/// The gear or the coagulant that a belief of scope equipment belongs to.
struct Gear {
  std::string_view kind;  ///< "blender", "coagulant"
  const std::string &id, &kitchen_name;
};
Gear gear_of(const Setup& setup, Param p);

/// What lasts from batch to batch; the rest, to 1, is the batch's own.
std::vector<Loading> loadings(const Setup& setup, const Belief& belief);

/// The legume, strainer, coagulant ... that a name belongs to is what follows the @.
Problems apply_learned(Setup& setup, const Learned& learned);

}  // namespace curdwright
