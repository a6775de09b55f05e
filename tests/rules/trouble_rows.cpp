// SPDX-License-Identifier: MIT
#include "rules/trouble_rows.hpp"

namespace curdwright::test {
namespace {

using enum Comes;

Try gdl(std::vector<std::string> set = {}) {
  set.push_back("/coagulate/with=gdl");
  return pea(std::move(set));
}
/// GDL that has had neither warmth nor time.
Try hurried_gdl() { return gdl({"/coagulate/at=40 degC", "/coagulate/wait=5 min"}); }
Try four_washes() {
  return {R"({"legume":"pea-split-yellow","want":{"dry":"1 kg"},"strain":{"washes":[{"water_to_dry":0.5},{"water_to_dry":0.5},{"water_to_dry":0.5},{"water_to_dry":0.5}]}})", {}};
}
/// A soak on the counter, long enough for tenfold growth.
Try risky_soak() { return pea({"/soak/water_temperature=25 degC", "/soak/room=25 degC", "/soak/time=20 h"}); }
/// Milk with its starch in it, from a seed that has some.
Try starch_in() { return pea({"/starch/remove=none"}); }
Try hardly_settled() { return pea({"/starch/time=2 min"}); }
Try dosed(std::string mmol_g, std::vector<std::string> set = {}) {
  set.push_back("/coagulate/dose=" + mmol_g + " mmol/g");
  return pea(std::move(set));
}
/// About 155 mmol/l, where a salt sets a third.
Try drowned() { return dosed("5"); }
/// About 46 mmol/l: above the window and below what dissolves curd.
Try full_dose() { return dosed("1.5"); }
Try low_dose(std::vector<std::string> set = {}) { return dosed("0.3", std::move(set)); }
Try thin() { return pea({"/blend/total_water_to_dry=16"}); }
Try cool() { return pea({"/coagulate/at=65 degC"}); }

constexpr std::string_view whatever = "whatever the plan, it may have happened";

/// Rows that curd=none, curd=wispy and whey=milky share.
void add_dosing(std::vector<TroubleRow>& rows, std::string_view seen) {
  rows.push_back({seen, "dissolved", drowned(), first, silent(full_dose())});
  rows.push_back({seen, "too-little-kept", low_dose(), first, silent(low_dose({"/coagulate/make_up=1"}))});
  rows.push_back({seen, "too-little-fresh", low_dose({"/coagulate/make_up=1"}), first, silent(low_dose())});
  rows.push_back({seen, "milk-cool", cool(), first, silent(gdl())});
}

}  // namespace

std::vector<TroubleRow> trouble_rows() {
  std::vector<TroubleRow> rows = {
      {"soak=foaming", "spoiled-soak", pea(), first, never_silent("a spoiled soak is thrown out whatever the plan")},
      {"soak=sour", "spoiled-soak", pea(), first, never_silent("a spoiled soak is thrown out whatever the plan")},
      {"soak=slimy", "spoiled-soak", pea(), first, never_silent("a spoiled soak is thrown out whatever the plan")},
      {"pulp=coarse", "short-blend", pea({"/blend/time=10 s"}), first, silent(four_washes())},
      {"pulp=coarse", "seed-hard", pea({"/soak/time=1 h", "/soak/water_temperature=5 degC"}), first, never_silent(whatever)},
      {"pulp=coarse", "cloth-open", pea(), somewhere, never_silent(whatever)},
      {"pulp=slimy", "spoiled", risky_soak(), first, silent(pea())},
      {"pulp=slimy", "over-ground", pea({"/blend/time=3 min"}), first, silent(four_washes())},
      {"pulp=slimy", "starch-swollen", pea({"/blend/water_temperature=80 degC"}), first, silent(soy())},
      {"pulp=slimy", "too-little-run", pea(), somewhere, silent(risky_soak())},
      {"cloth=blocked", "starch-gel", pea({"/starch/remove=gel-and-strain"}), first, silent(soy())},
      {"cloth=blocked", "warm-starch", pea({"/blend/water_temperature=80 degC"}), first, silent(pea())},
      {"cloth=blocked", "fine-paste", pea({"/blend/time=3 min"}), first, never_silent(whatever)},
      {"starch=no-layer", "nothing-to-settle", soy(), first, silent(pea())},
      {"starch=no-layer", "too-early", pea({"/starch/time=5 min"}), first, silent(pea({"/starch/time=6 h"}))},
      {"starch=no-layer", "moved", pea(), somewhere, silent(soy())},
      {"milk=scorched", "starch-stuck", starch_in(), first, silent(soy())},
      {"milk=scorched", "fast-heat", soy(), first, never_silent(whatever)},
      {"milk=boiled-over", "pot-full", kidney(), first, silent(pea())},
      {"milk=boiled-over", "first-foam", pea(), first, never_silent(whatever)},
      {"whey=milky", "gdl-slow", hurried_gdl(), first, silent(gdl())},
      {"whey=milky", "gdl-cold", gdl(), first, silent(pea())},
      {"whey=milky", "gdl-little", gdl({"/coagulate/dose=0.35 mmol/g"}), first, silent(pea())},
      {"whey=milky", "too-early", pea({"/coagulate/wait=5 min"}), first, silent(pea())},
      {"whey=milky", "dose-at-top", full_dose(), first, silent(pea())},
      {"whey=milky", "whey-protein", pea(), somewhere, silent(soy())},
      {"curd=none", "gdl-slow", hurried_gdl(), first, silent(gdl())},
      {"curd=none", "gdl-cold", gdl(), first, silent(pea())},
      {"curd=none", "gdl-little", gdl({"/coagulate/dose=0.35 mmol/g"}), first, silent(pea())},
      {"curd=none", "dose-at-top", full_dose(), first, silent(pea())},
      {"curd=none", "not-cooked", pea(), somewhere, silent(gdl())},
      {"curd=none", "milk-thin", thin(), first, silent(gdl())},
      {"curd=wispy", "pulse-wisps", pea(), first, silent(soy())},
      {"curd=wispy", "milk-thin", thin(), first, silent(gdl())},
      {"curd=wispy", "starch-between", starch_in(), first, silent(soy())},
      {"curd=wispy", "stirred-apart", soy(), somewhere, silent(pea())},
      {"curd=wispy", "gel-broken", gdl(), first, silent(pea())},
      {"curd=custard", "dissolved", drowned(), first, silent(full_dose())},
      {"curd=custard", "gdl-gel", gdl(), first, silent(pea())},
      {"curd=custard", "starch-set", hardly_settled(), first, silent(starch_in())},
      {"curd=custard", "starch-set-no-settling", starch_in(), first, silent(soy())},
      {"curd=custard", "soft-set", soy(), first, silent(gdl())},
      {"block=crumbles", "starch-weak", starch_in(), first, silent(soy())},
      {"block=crumbles", "pressed-hard", pea({"/press/pressure=12 kPa"}), first, silent(pea({"/press/moisture=80 %"}))},
      {"block=crumbles", "cold-curd", pea(), somewhere, never_silent(whatever)},
      {"block=crumbles", "over-dosed", dosed("1.2"), first, silent(pea())},
      {"block=wet", "short-press", soy(), first, silent(soy({"/press/moisture=80 %"}))},
      {"block=wet", "not-there-yet", pea({"/press/moisture=80 %"}), first, silent(pea())},
      {"block=wet", "sealed-face", pea(), somewhere, silent(soy())},
      {"block=wet", "starch-binds", starch_in(), first, silent(soy())},
      {"block=holes", "loose-fill", pea(), first, never_silent(whatever)},
      {"block=holes", "poured-hot", pea({"/coagulate/at=95 degC"}), first, silent(pea())},
  };
  for (std::string_view seen : {"whey=milky", "curd=none", "curd=wispy"}) add_dosing(rows, seen);
  return rows;
}

}  // namespace curdwright::test
