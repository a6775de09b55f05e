// SPDX-License-Identifier: MIT
// Every step of both tables of rounding, from either side. Sources: US, FDA Food Labeling Guide, appendix H, and 21 CFR 101.9(c);
// EU, Commission guidance on tolerances of December 2012, table 4 (from memory), and Regulation 1169/2011, Annexes XIII and XIV.
#include "curdwright/nutrition.hpp"

#include "support/support.hpp"

using namespace curdwright;
using curdwright::test::batch_of;
using enum Nutrient;

namespace {

std::string us(Nutrient n, double amount, std::string_view unit) { return declared_text(declared(LabelRules::us, n, amount), LabelRules::us, unit); }
std::string eu(Nutrient n, double amount, std::string_view unit) { return declared_text(declared(LabelRules::eu, n, amount), LabelRules::eu, unit); }

const NutritionLine& line(const NutritionLabel& l, Nutrient n) {
  for (const NutritionLine& x : l.lines)
    if (x.nutrient == n) return x;
  throw std::out_of_range("no such line");
}

}  // namespace

TEST_CASE("US label: energy below 5 kcal is nothing, to 50 the nearest 5, above the nearest 10") {
  CHECK(us(energy, 4.99, "kcal") == "0 kcal");
  CHECK(us(energy, 5, "kcal") == "5 kcal");
  CHECK(us(energy, 7.4, "kcal") == "5 kcal");
  CHECK(us(energy, 7.5, "kcal") == "10 kcal");
  CHECK(us(energy, 47.4, "kcal") == "45 kcal");
  CHECK(us(energy, 50, "kcal") == "50 kcal");
  CHECK(us(energy, 50.1, "kcal") == "50 kcal");
  CHECK(us(energy, 54.9, "kcal") == "50 kcal");
  CHECK(us(energy, 55, "kcal") == "60 kcal");
  CHECK(us(energy, 144, "kcal") == "140 kcal");
}

TEST_CASE("US label: fat below 0.5 g is nothing, below 5 the nearest half, above the nearest gram") {
  CHECK(us(fat, 0.49, "g") == "0 g");
  CHECK(us(fat, 0.5, "g") == "0.5 g");
  CHECK(us(fat, 0.74, "g") == "0.5 g");
  CHECK(us(fat, 0.75, "g") == "1 g");
  CHECK(us(fat, 4.17, "g") == "4 g");
  CHECK(us(fat, 4.3, "g") == "4.5 g");
  CHECK(us(fat, 4.9, "g") == "5 g");
  CHECK(us(fat, 5.0, "g") == "5 g");
  CHECK(us(fat, 5.49, "g") == "5 g");
  CHECK(us(fat, 5.5, "g") == "6 g");
}

TEST_CASE("US label: sodium below 5 mg is nothing, to 140 the nearest 5, above the nearest 10") {
  CHECK(us(sodium, 4.9, "mg") == "0 mg");
  CHECK(us(sodium, 5, "mg") == "5 mg");
  CHECK(us(sodium, 12, "mg") == "10 mg");
  CHECK(us(sodium, 12.5, "mg") == "15 mg");
  CHECK(us(sodium, 138, "mg") == "140 mg");
  CHECK(us(sodium, 140, "mg") == "140 mg");
  CHECK(us(sodium, 144.9, "mg") == "140 mg");
  CHECK(us(sodium, 145, "mg") == "150 mg");
}

TEST_CASE("US label: carbohydrate, fibre, sugars and protein below 0.5 g are nothing, below 1 less than 1 g") {
  for (Nutrient n : {carbohydrate, fibre, sugars, protein}) {
    CHECK(us(n, 0.49, "g") == "0 g");
    CHECK(us(n, 0.5, "g") == "less than 1 g");
    CHECK(us(n, 0.99, "g") == "less than 1 g");
    CHECK(us(n, 1.0, "g") == "1 g");
    CHECK(us(n, 1.49, "g") == "1 g");
    CHECK(us(n, 1.5, "g") == "2 g");
  }
}

TEST_CASE("US label: minerals to 10 mg, their share of a day to 2, 5 and 10 %") {
  CHECK(us(calcium, 344, "mg") == "340 mg");
  CHECK(us(magnesium, 45, "mg") == "50 mg");
  const auto percent = [](double p) { return declared_percent(LabelRules::us, calcium, 13.0 * p); };  // Daily Value 1300 mg
  CHECK(percent(0.9) == 0);
  CHECK(percent(1.0) == 2);
  CHECK(percent(8.9) == 8);
  CHECK(percent(10.0) == 10);
  CHECK(percent(10.1) == 10);
  CHECK(percent(12.4) == 10);
  CHECK(percent(12.5) == 15);
  CHECK(percent(50.0) == 50);
  CHECK(percent(54.9) == 50);
  CHECK(percent(55.1) == 60);
  CHECK(declared_percent(LabelRules::us, sodium, 150) == 7);  // of 2300 mg: whole percents
  CHECK(may_declare(LabelRules::us, calcium, 1));
}

TEST_CASE("EU label: to 0.5 g less than 0.5, to 10 g a tenth, above a gram") {
  for (Nutrient n : {fat, carbohydrate, sugars, fibre, protein}) {
    CHECK(eu(n, 0, "g") == "0 g");
    CHECK(eu(n, 0.5, "g") == "< 0.5 g");
    CHECK(eu(n, 0.51, "g") == "0.5 g");
    CHECK(eu(n, 0.55, "g") == "0.6 g");
    CHECK(eu(n, 4.78, "g") == "4.8 g");
    CHECK(eu(n, 9.94, "g") == "9.9 g");
    CHECK(eu(n, 9.96, "g") == "10 g");
    CHECK(eu(n, 10.4, "g") == "10 g");
    CHECK(eu(n, 10.5, "g") == "11 g");
  }
}

TEST_CASE("EU label: energy to the nearest one; salt from 0.0125 g to a hundredth, from 1 g to a tenth") {
  CHECK(eu(energy, 343.31, "kJ") == "343 kJ");
  CHECK(eu(energy, 82.5, "kcal") == "83 kcal");
  CHECK(eu(sodium, 0, "g") == "0 g");
  CHECK(eu(sodium, 0.0125, "g") == "< 0.01 g");
  CHECK(eu(sodium, 0.0126, "g") == "0.01 g");
  CHECK(eu(sodium, 0.994, "g") == "0.99 g");
  CHECK(eu(sodium, 0.996, "g") == "1.0 g");
  CHECK(eu(sodium, 1.24, "g") == "1.2 g");
  CHECK(eu(sodium, 1.25, "g") == "1.3 g");
}

TEST_CASE("EU label: calcium and magnesium to three figures, declared from 15 % of the reference value") {
  CHECK(eu(calcium, 350.4, "mg") == "350 mg");
  CHECK(eu(calcium, 99.96, "mg") == "100 mg");
  CHECK(eu(calcium, 48.26, "mg") == "48.3 mg");
  CHECK(eu(magnesium, 1234, "mg") == "1230 mg");
  CHECK(eu(magnesium, 0, "mg") == "0 mg");
  CHECK_FALSE(may_declare(LabelRules::eu, calcium, 119.9));  // 15 % of 800
  CHECK(may_declare(LabelRules::eu, calcium, 120));
  CHECK_FALSE(may_declare(LabelRules::eu, magnesium, 56.2));  // 15 % of 375
  CHECK(may_declare(LabelRules::eu, magnesium, 56.25));
  CHECK(may_declare(LabelRules::eu, protein, 0));
  CHECK(declared_percent(LabelRules::eu, calcium, 350) == 44);
  CHECK_FALSE(reference_amount(LabelRules::eu, sodium));
}

TEST_CASE("energy: fibre and organic acids count by the European factors, by difference by the American") {
  const LabelFood food{8, 5, 3, 1, 0.2};
  CHECK(label_energy(LabelRules::eu, food).kj == Approx(17 * 8 + 37 * 5 + 17 * 2 + 8 * 1 + 13 * 0.2));
  CHECK(label_energy(LabelRules::eu, food).kcal == Approx(4 * 8 + 9 * 5 + 4 * 2 + 2 * 1 + 3 * 0.2));
  CHECK(label_energy(LabelRules::us, food).kcal == Approx(4 * 8 + 9 * 5 + 4 * 3.2));
  CHECK(label_energy(LabelRules::us, food).kj == Approx(4.184 * 89.8));
}

TEST_CASE("label rules follow the region unless the kitchen says otherwise") {
  Kitchen k;
  for (Region region : {Region::us, Region::canada, Region::codex}) {
    k.region = region;
    CHECK(label_rules(k) == LabelRules::us);
  }
  for (Region region : {Region::uk, Region::scotland, Region::eu, Region::anz}) {
    k.region = region;
    CHECK(label_rules(k) == LabelRules::eu);
  }
  k.label_rules = LabelRules::us;
  CHECK(label_rules(k) == LabelRules::us);
  k.region = Region::us, k.label_rules = LabelRules::eu;
  CHECK(label_rules(k) == LabelRules::eu);
}

TEST_CASE("the label of a batch holds the plan's own amounts") {
  const Batch b = batch_of(R"({"legume": "soybean", "want": {"blocks": 4}})");
  const Ranges r = ranges(b.setup.job, b.setup.beliefs, {});
  const NutritionLabel l = nutrition(b.plan, {.rules = LabelRules::eu, .ranges = &r});
  CHECK(line(l, protein).per_100g == value(b.plan, Figure::protein));
  CHECK(line(l, protein).per_block == Approx(value(b.plan, Figure::protein) * in_grams(b.plan.block) / 100));
  CHECK(line(l, carbohydrate).per_100g == Approx(value(b.plan, Figure::carbohydrate) - value(b.plan, Figure::fibre)));
  CHECK(line(l, sodium).key == "salt_g");
  CHECK(line(l, sodium).per_100g == Approx(2.5e-3 * value(b.plan, Figure::sodium)));
  REQUIRE(line(l, calcium).likely);
  CHECK(line(l, calcium).likely->low < line(l, calcium).per_100g);
  CHECK(line(l, calcium).likely->high > line(l, calcium).per_100g);
  CHECK(line(l, magnesium).likely);
  CHECK(line(l, energy).text_100g.find(" kJ / ") != std::string::npos);
  CHECK(l.kj_100g == Approx(4.184 * line(l, energy).per_100g).epsilon(0.02));  // the two sets of factors differ a little
  const NutritionLabel american = nutrition(b.plan, {.rules = LabelRules::us});
  CHECK_FALSE(line(american, calcium).likely);
  CHECK(line(american, sodium).key == "sodium_mg");
  CHECK(american.not_estimated.size() == 7);
}

TEST_CASE("an acid that sets the curd has energy, a salt has none") {
  const Batch b = batch_of(R"({"legume": "soybean", "want": {"blocks": 4}, "coagulate": {"with": "gdl"}})");
  const double with = line(nutrition(b.plan, {.rules = LabelRules::eu, .acid_set = true}), energy).per_100g;
  const double without = line(nutrition(b.plan, {.rules = LabelRules::eu}), energy).per_100g;
  CHECK(with - without == Approx(3 * value(b.plan, Figure::salts)));
}
