// SPDX-License-Identifier: MIT
// The answers beside the sheet, for batches from the whole domain: no number in them is what it cannot be.
#include "curdwright/contrast.hpp"
#include "curdwright/correct.hpp"
#include "curdwright/diary_plan.hpp"
#include "curdwright/response_account.hpp"
#include "curdwright/sheet.hpp"
#include "laws/answered.hpp"
#include "laws/domain.hpp"
#include "laws/outputs.hpp"
#include "laws/walk.hpp"
#include "sheets/bested.hpp"
#include "sheets/compared.hpp"
#include "sheets/diary.hpp"
#include "sheets/explained.hpp"
#include "sheets/learned.hpp"
#include "sheets/varied.hpp"

using namespace curdwright;
using namespace curdwright::test;

namespace {

LocalTime local_at(Instant t) { return from_clock(std::chrono::local_seconds{t.time_since_epoch()}); }

constexpr Instant noon = std::chrono::sys_days{std::chrono::year{2027} / 3 / 5} + std::chrono::hours{12};

void must_be_empty(const std::string& faults) {
  RC_LOG() << faults << std::endl;
  RC_ASSERT(faults.empty());
}

/// A batch from the whole domain; recipes that are refused are passed over.
Batch some_batch(Drawn& d) {
  d = draw::whole_domain();
  auto b = answered(d);
  RC_PRE(b.has_value());
  RC_LOG() << d << std::endl;
  return std::move(*b);
}

std::vector<const Response*> every_response() {
  std::vector<const Response*> all;
  for (const Response& r : all_responses()) all.push_back(&r);
  return all;
}

/// As many readings as may be, each anywhere in what can be told.
std::vector<std::string> some_readings() {
  std::vector<std::string> told;
  for (const Measurable& m : all_measurables()) {
    if (!once_in(5) || (m.word == "milk" && m.kind == QuantityKind::volume)) continue;
    const double low = m.low, high = m.high;
    const double v = low > 0 && m.kind != QuantityKind::temperature ? std::clamp(draw::spread(low, high), low, high) : between(low, high);
    told.push_back(fmt::format("{}={}", m.word, m.kind ? m.kind == QuantityKind::fraction ? fmt::format("{:.4f}%", 100 * v) : write_quantity(v, *m.kind) : fmt::format("{:.4f}", v)));
  }
  return told;
}

DiaryBatch begun(const Batch& b, const Drawn& d) {
  DiaryEvent event{noon, "beans-1", start_of(b, {d.recipe, "r.json", d.kitchen, "k.json", {}, {}})};
  const auto line = line_after("", event);
  RC_ASSERT(line.has_value());
  const auto diary = read_diary(*line, "diary.jsonl");
  if (!diary) RC_FAIL(diary.error()[0].what);
  RC_ASSERT(diary->batches.size() == 1U);
  return diary->batches[0];
}

std::string shown_faults(const DiaryBatch& batch, const Kitchen& kitchen) {
  const sheets::DiaryClock clock{local_at, "UTC"};
  // Asked a day after all of it is there: before that, days count backward, as the schema lets them. One pair of hands may need years.
  Duration there = batch.start.made_after;
  for (const DiaryLeftover& l : batch.start.leftovers) there = std::max(there, l.ready_after);
  const auto on = noon + std::chrono::seconds{static_cast<long long>(in_seconds(there))} + std::chrono::hours{24};
  const sheets::ShowInputs in{batch, kitchen, clock, local_at(on), {}, {}};
  return number_faults_of(sheets::show_json(in)) + page_fault(sheets::show_page(in));
}

}  // namespace

TEST_CASE("every term of every explanation is a number") {
  law(12, [] {
    Drawn d;
    const Batch b = some_batch(d);
    std::vector<Figure> figures;
    for (const FigureInfo& f : all_figures()) figures.push_back(f.figure);
    std::string faults;
    for (const Account& a : account_all(b, figures)) {
      if (!faults.empty()) break;
      for (const Term& t : a.terms())
        if (!std::isfinite(t.value) || t.low > t.high) faults += t.key + " is no number\n";
      faults += page_fault(sheets::explained_text(a, {}, {}), true);
    }
    must_be_empty(faults);
  }, Shrink::no);
}

TEST_CASE("every response and its range, and the comparison of any two batches, are sound") {
  law(15, [] {
    Drawn d;
    const Batch one = some_batch(d), other = some_batch(d);
    const auto responses = every_response();
    sheets::ComparedPage page;
    page.names = page.titles = {"a", "b"};
    page.stops.resize(2);
    const std::array<const Batch*, 2> both = {&one, &other};
    page.contrasts = contrasts(both, responses, 64);
    std::string faults = number_faults_of(sheets::compared_json(page)) + page_fault(sheets::compared_text(page, 79));
    for (const Contrast& c : page.contrasts)
      for (const auto& m : c.to_first)
        if (m && (!(m->chance_more >= 0 && m->chance_more <= 1) || m->range.low > m->range.high)) faults += c.response->key + ": a chance or a range is out\n";
    must_be_empty(faults);
  }, Shrink::no);
}

TEST_CASE("a setting that is varied over its whole range gives sound numbers or problems with a place") {
  law(15, [] {
    const Drawn d = draw::whole_domain();
    const InputTexts texts{d.recipe, "r.json", d.kitchen, "k.json", {}, {}};
    const std::string over = *rc::gen::exec([] {
      const std::vector<std::string> some = {"/soak/time=10min:96h:x6", "/blend/total_water_to_dry=0.5:40:x3", "/cook/hold=0min:6h:90min", "/kitchen/altitude=-400m:5500m:1475m", "/coagulate/at=20degC:100degC:20degC",
                                             "/press/time=1min:96h:x9", "/want/dry=1g:10000kg:x56", "/legume=soybean,kidney-red,peanut"};
      return draw::one_of(some);
    });
    auto factor = read_factor(over);
    if (!factor) RC_FAIL(factor.error()[0].what + over);
    const auto v = vary(texts, {*factor}, every_response(), Catalogue::shipped(), {Depth::fast, {}});
    RC_LOG() << d << " over " << over << std::endl;
    if (!v) return must_be_empty(refusal_fault(v.error()));
    std::string faults = number_faults_of(sheets::varied_json(*v, "x")) + page_fault(sheets::varied_text(*v, {"x", 79, {}})) + page_fault(sheets::varied_csv(*v), true);
    for (const Run& run : v->runs)
      if (!run.problems.empty()) faults += refusal_fault(run.problems);
    must_be_empty(faults);
  }, Shrink::no);
}

TEST_CASE("a batch in the diary is shown soundly, and planned again as it was planned then") {
  law(40, [] {
    Drawn d;
    const Batch b = some_batch(d);
    DiaryBatch kept = begun(b, d);
    std::string faults = shown_faults(kept, b.setup.kitchen);
    const auto again = planned_then(kept, Catalogue::shipped(), Believed::then);
    if (!again) RC_FAIL(again.error()[0].code + " " + again.error()[0].place.pointer + " " + again.error()[0].what + " " + again.error()[0].why);
    RC_ASSERT(std::abs(again->plan.pressed.curd.of.total_kg() - b.plan.pressed.curd.of.total_kg()) <= 1e-8 * through(b.plan));
    must_be_empty(faults);
  }, Shrink::no);
}

TEST_CASE("whatever is told of a batch in hand, its corrected sheet is sound, or it is said what is wrong") {
  int corrected = 0;
  law(80, [&] {
    Drawn d;
    const Batch b = some_batch(d);
    const auto told = *rc::gen::exec(some_readings);
    const auto readings = read_readings(told, b.setup.kitchen, "--measured");
    for (const std::string& t : told) RC_LOG() << t << std::endl;
    if (!readings) return RC_ASSERT(!readings.error().empty() && !readings.error()[0].what.empty());
    RC_PRE(!readings->empty());
    const auto c = correct(b, *readings);
    if (!c) return RC_ASSERT(!c.error().empty() && !c.error()[0].what.empty());
    ++corrected;
    const Facts facts = facts_of(c->batch);
    const Sheet sheet = make_sheet(facts, {.correction = &*c});
    std::string faults = unsound(c->batch.plan) + number_faults_of(to_json(facts, sheet)) + page_fault(to_text(sheet, {}), true);  // how fast curd presses out is told as 1.9e-07 m2/s
    for (const Told& t : c->told)
      if (!(t.residual.weight >= 0 && t.residual.weight <= 1)) faults += "a weight is out of 0 to 1\n";
    must_be_empty(faults);
  }, Shrink::no);
  CHECK(corrected > 25);
}

TEST_CASE("whatever was read of batches, what is learned from them is sound") {
  law(5, [] {
    std::vector<Taught> taught;
    std::vector<BatchSeen> batches;
    for (int i = 0; i < 2; ++i) {
      Drawn d;
      const Batch b = some_batch(d);
      BatchSeen seen{fmt::format("b-{}", i), b.setup, {}};
      for (Figure f : {Figure::soaked_mass, Figure::pulp_mass, Figure::curd_mass})
        if (const double v = value(b.plan, f); v > 0) seen.seen.push_back({f, v * draw::spread(0.1, 10), 0.03});
      taught.push_back({seen, {}});
      batches.push_back(seen);
    }
    const Lesson lesson = learn(batches);
    for (double x : lesson.offsets) RC_ASSERT(std::isfinite(x));
    must_be_empty(number_faults_of(sheets::learned_json(lesson, taught, {true, true, {}})) + page_fault(sheets::learned_text(lesson, taught, {true, true, {}}), true));
  }, Shrink::no);
}

TEST_CASE("the best of any recipe is a sound batch, or it is said why there is none") {
  law(4, [] {
    const Drawn d = draw::whole_domain();
    const Response* protein = *find_response("protein_mass_g");
    const Question q{{d.recipe, "r.json", d.kitchen, "k.json", {}, {}}, {protein, true}, {}, {*read_room("/coagulate/wait=1min:6h")}};
    const auto best_of = best(q, Catalogue::shipped());
    RC_LOG() << d << std::endl;
    if (!best_of) return must_be_empty(best_of.error().empty() ? "no problem is told" : "");
    must_be_empty(unsound(best_of->batch.plan) + number_faults_of(sheets::answer_json(q, *best_of)));
  }, Shrink::no);
}
