// SPDX-License-Identifier: MIT
// Chilling: textbook slabs, curd-like blocks, a standing pot.
#include <cmath>

#include "curdwright/properties.hpp"
#include "published/published.hpp"

namespace curdwright::test {
namespace {

/// A slab with the same coefficient on both faces, or one face insulated: L is from the middle, or from that face.
struct PrintedSlab {
  double half_m, coefficient, conductivity, diffusivity;
  [[nodiscard]] double biot() const { return coefficient * half_m / conductivity; }
  [[nodiscard]] double fourier(double t_s) const { return diffusivity * t_s / (half_m * half_m); }
};

/// Late enough for one term: the face is the centre times cos z.
Json slab_after(const Json& c) {
  const PrintedSlab s{given(c, "half_thickness"), given(c, "h"), given(c, "k"), given(c, "alpha")};
  const double fourier = s.fourier(given(c, "t")), start = given(c, "Ti"), medium = given(c, "Tinf");
  REQUIRE(fourier > 0.2);
  const double centre = medium + (start - medium) * slab_centre(s.biot(), fourier);
  const double face = medium + (centre - medium) * std::cos(slab_root(s.biot(), 0));
  return {{"Bi", s.biot()},           {"Fo", fourier},           {"T_insulated_face", centre},     {"T_wetted_face", face},
          {"T_surface_exact", face}, {"T_surface_textbook", face}, {"flux", s.coefficient * (face - medium)}};
}

Json lumped(const Json& c) {
  TemperatureHistory h(celsius(given(c, "Ti")));
  h.relax(minutes(1), celsius(given(c, "Tinf")), seconds(given(c, "tau")));
  return {{"t", in_seconds(h.pieces().front().passes(celsius(given(c, "T"))))}};
}

Json slab_roots(const Json& c) {
  std::vector<double> roots, weights;
  for (double biot : all_given(c, "Bi")) {
    const double z = slab_root(biot, 0);
    constexpr double late = 3.0;  // one term is left
    roots.push_back(z);
    weights.push_back(slab_centre(biot, late) * std::exp(z * z * late));
  }
  return {{"zeta1", roots}, {"C1", weights}};
}

ThermalBlock block_of(const Json& c, Length length, Length width, Length height) {
  return {length, width, height, given(c, "k"), given(c, "k") / (given(c, "rho") * given(c, "cp"))};
}

/// A slab is a box so long and wide that its rims do not matter.
Json slab_chilled(const Json& c) {
  const Surroundings medium{given(c, "h"), celsius(given(c, "T_medium")), {}};
  const ThermalBlock slab = block_of(c, metres(1.5), metres(1.5), centimetres(given(c, "thickness")));
  const Chilled r = chill(slab, celsius(given(c, "Ti")), std::span(&medium, 1));
  return {{"t_centre_57.2C", in_minutes(r.under_from.value())},
          {"t_centre_21.1C", in_minutes(r.under_first.value())},
          {"t_centre_5C", in_minutes(r.under_second.value())},
          {"passes_2h_57_to_21", r.to_first().value() <= hours(2)},
          {"passes_6h_57_to_5", r.to_second().value() <= hours(6)}};
}

Json box_chilled(const Json& c) {
  const std::vector<double> cm = all_given(c, "size");
  const ThermalBlock box = block_of(c, centimetres(cm[2]), centimetres(cm[1]), centimetres(cm[0]));
  const Temperature centre = box_centre(box, given(c, "h"), celsius(given(c, "Ti")), celsius(given(c, "T_medium")), seconds(given(c, "t")));
  return {{"T_centre", in_celsius(centre)}};
}

/// Sugar water of the printed heat capacity at a temperature.
Composition with_heat_capacity(double mass_kg, double j_kg_k, Temperature at) {
  Composition water, sugar;
  water[Component::water] = sugar[Component::sugars] = 1.0;
  const double cw = heat_capacity_j_kg_k(water, at), cs = heat_capacity_j_kg_k(sugar, at);
  const double share = (cw - j_kg_k) / (cw - cs);
  return (water * (1.0 - share) + sugar * share) * mass_kg;
}

Json pot_cooling(const Json& c) {
  const Temperature start = celsius(given(c, "Ti"));
  const Composition milk = with_heat_capacity(given(c, "pot"), 1e3 * given(c, "cp"), start);
  const Duration tau = pot_time_constant(milk, start, given(c, "h"));
  TemperatureHistory h(start);
  h.relax(hours(24), celsius(given(c, "Tinf")), tau);
  return {{"tau", in_hours(tau)}, {"t", in_minutes(h.pieces().front().passes(celsius(given(c, "T"))))}};
}

}  // namespace

Checkers chill_checkers() {
  return {{"slab_after", slab_after},     {"lumped", lumped},           {"slab_roots", slab_roots},
          {"slab_chilled", slab_chilled}, {"box_chilled", box_chilled}, {"pot_cooling", pot_cooling}};
}

TEST_CASE("published coolings come out as printed, or miss as recorded") { check_published(chill_checkers()); }

}  // namespace curdwright::test
