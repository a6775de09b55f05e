// SPDX-License-Identifier: MIT
// Over everything that may be written in a recipe and a kitchen: it is planned soundly, or it is refused at a place.
#include <functional>

#include "curdwright/sheet.hpp"
#include "laws/answered.hpp"
#include "laws/domain.hpp"
#include "laws/outputs.hpp"
#include "laws/walk.hpp"

using namespace curdwright;
using namespace curdwright::test;

namespace {

void must_be_empty(const std::string& faults) {
  RC_LOG() << faults << std::endl;
  RC_ASSERT(faults.empty());
}

/// Every form of the sheet, looked at number by number.
std::string sheet_faults(const Batch& b, const Ranges* ranges) {
  const Facts facts = facts_of(b);
  const Sheet sheet = make_sheet(facts, {.ranges = ranges, .publish = true});
  std::string all = number_faults_of(to_json(facts, sheet, ranges)) + number_faults_of(to_json_ld(facts, sheet));
  all += page_fault(to_csv(facts), true);
  for (const std::string& page : {to_text(sheet, {}), to_markdown(sheet), to_text(make_sheet(facts, {.units = Units::us, .ranges = ranges}), {})}) all += page_fault(page);
  return all;
}

std::string balance_faults(const Plan& p) {
  std::string all = unsound(p);
  for (Stage s : all_stages) {
    if (!ran(p, s)) continue;
    FlowSpare spare;
    const StageFlows f = flows(p, s, spare);
    if (!(imbalance(f) < closed) || !(mineral_imbalance(f) < closed)) all += fmt::format("{} does not balance\n", word(s));
  }
  return all;
}

}  // namespace

TEST_CASE("any recipe in any kitchen is planned soundly, or refused where the fault lies") {
  int planned = 0, refused = 0;
  law(500, [&] {
    const Drawn d = draw::whole_domain();
    const auto b = answered(d);
    RC_LOG() << d << std::endl;
    if (!b) {
      ++refused;
      return must_be_empty(refusal_fault(b.error()));
    }
    ++planned;
    const Ranges r = ranges(b->setup.job, b->setup.beliefs, {.plans = 64});
    must_be_empty(balance_faults(b->plan) + sheet_faults(*b, &r));
  }, Shrink::no);
  INFO(planned << " planned, " << refused << " refused");
  CHECK(planned > 100);
  CHECK(refused > 50);
}

namespace {

/// Every end of every range and every word of every choice, as the command line sets it.
class Ends : public json::Fields {
 public:
  std::vector<std::pair<std::string, std::string>> all;  ///< pointer and value
  explicit Ends(std::string at) : at_(std::move(at)) {}

  void number(std::string_view key, std::optional<double>&, json::Bounds b, std::string_view) override { both(key, fmt::format("{:.15g}", b.low), fmt::format("{:.15g}", b.high)); }
  void count(std::string_view key, std::optional<int>&, int low, int high, std::string_view) override { both(key, std::to_string(low), std::to_string(high)); }
  void flag(std::string_view key, std::optional<bool>&, std::string_view) override { both(key, "false", "true"); }
  void text(std::string_view key, std::optional<std::string>&, std::size_t, std::string_view) override {
    if (key == "$schema" || key == "title" || key == "name" || key == "time_zone" || (key == "id" && at_ != "/legume/0")) return;
    for (const std::string& name : names_for(key)) add(key, name);
  }
  void choice(std::string_view key, std::optional<std::string>&, std::span<const std::string_view> words, std::string_view) override {
    for (std::string_view w : words) add(key, std::string(w));
  }
  void checked_text(std::string_view key, std::optional<std::string>& v, const Check&, std::string_view about) override { text(key, v, 0, about); }
  void entries(std::string_view, Entries&, std::size_t, const Check&, std::string_view) override {}
  void texts(std::string_view, std::vector<std::string>&, std::size_t, std::string_view) override {}
  void numbers(std::string_view, std::vector<double>&, std::size_t, json::Bounds, std::string_view) override {}
  void object(std::string_view key, bool&, std::string_view, const Describe& inner) override {
    if (key != "learned") inside(key, inner);
  }
  void list(std::string_view key, std::size_t, std::size_t, std::string_view, const std::function<void(std::size_t)>& resize, const DescribeItem& item) override {
    resize(1);
    inside(std::string(key) + "/0", [&](Fields& f) { item(f, 0); });
  }
  void text_or_list(std::string_view key, std::optional<std::string>&, std::size_t most, std::string_view about, const std::function<void(std::size_t)>& resize, const DescribeItem& item) override {
    list(key, 0, most, about, resize, item);
  }
  void evidence(std::string_view, Evidence&, std::string_view, Link, bool, std::string_view) override {}

 protected:
  void quantity_field(std::string_view key, QuantityKind kind, double&, bool&, json::Bounds b, std::string_view) override {
    if (key == "share") return;
    const auto written = [&](double si) { return kind == QuantityKind::fraction ? fmt::format("{:.15g}", si) : in_si(si, kind); };
    both(key, written(b.low), written(b.high));
  }

 private:
  void add(std::string_view key, std::string value) { all.emplace_back(at_ + "/" + std::string(key), std::move(value)); }
  void both(std::string_view key, std::string low, std::string high) { add(key, std::move(low)), add(key, std::move(high)); }
  void inside(std::string_view key, const Describe& inner) {
    Ends below(at_ + "/" + std::string(key));
    inner(below);
    all.insert(all.end(), below.all.begin(), below.all.end());
  }
  std::string at_;
};

std::vector<std::pair<std::string, std::string>> every_end() {
  Recipe r;
  Kitchen k;
  Ends recipe(""), kitchen("/kitchen");
  describe_recipe(recipe, r);
  describe_kitchen(kitchen, k);
  auto all = recipe.all;
  all.insert(all.end(), kitchen.all.begin(), kitchen.all.end());
  return all;
}

/// A recipe in which every list has an item, so that each pointer leads somewhere.
const Drawn& base() {
  static const Drawn d{R"({"legume": [{"id": "chickpea-kabuli"}], "strain": {"washes": [{"water_to_dry": 1}]}, "extras": [{"what": "salt", "stage": "press", "to_dry": 0.01}]})", R"({"pots": [{"volume": "12 l"}]})"};
  return d;
}

/// What is wrong with the answer at these ends; empty when it is sound, or refused at a place. \param planned counts the answers that were plans
std::string faults_at(const std::vector<std::string>& set, int& planned) {
  const auto b = answered(base(), set);
  if (!b) return refusal_fault(b.error());
  ++planned;
  const Facts facts = facts_of(*b);
  const Sheet sheet = make_sheet(facts, {});
  return balance_faults(b->plan) + number_faults_of(to_json(facts, sheet)) + page_fault(to_text(sheet, {}));
}

}  // namespace

TEST_CASE("each key at each end of its range, and each word of each choice, is planned soundly or refused where it stands") {
  const auto ends = every_end();
  CHECK(ends.size() > 250);
  int planned = 0;
  for (const auto& [pointer, value] : ends) {
    const std::string set = pointer + "=" + value;
    INFO(set);
    CHECK(faults_at({set}, planned) == "");
  }
  CHECK(planned > 200);
}

TEST_CASE("any two keys at ends of their ranges are planned soundly together, or refused at a place") {
  const auto ends = every_end();
  int planned = 0, pairs = 0;
  // One pair in nine, others in each row. The longer search (law.hpp) takes them all.
  constexpr std::size_t stride = CURDWRIGHT_LAW_TIMES > 1 ? 1 : 9;
  for (std::size_t i = 0; i < ends.size(); ++i)
    for (std::size_t j = i + 1 + i % stride; j < ends.size(); j += stride) {
      if (ends[i].first == ends[j].first) continue;
      const std::vector<std::string> set = {ends[i].first + "=" + ends[i].second, ends[j].first + "=" + ends[j].second};
      ++pairs;
      const std::string faults = faults_at(set, planned);
      if (faults.empty()) continue;
      INFO(set[0] << " " << set[1]);
      CHECK(faults == "");
    }
  INFO(planned << " of " << pairs);
  CHECK(planned > pairs / 2);
}
