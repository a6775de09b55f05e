// SPDX-License-Identifier: MIT
#include "curdwright/rank.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "curdwright/cautions.hpp"
#include "curdwright/cost.hpp"
#include "json/document.hpp"
#include "text/nearest.hpp"
#include "text/width.hpp"

namespace curdwright {
namespace {

/// How well the figures of a record are known.
void count_known(const Legume& l, Ranked& r) {
  for (const ParamInfo& p : all_params()) {
    if (p.scope != Scope::legume) continue;
    const Evidence& e = l.evidence(p.param);
    if (!e.borrowed_from.empty())
      ++r.borrowed;
    else if (e.known == Known::guess || e.known == Known::judgement || e.known == Known::memory)
      ++r.guessed;
    else
      ++r.own;
  }
}

std::optional<double> seed_price(const Prices& prices, std::string_view id) {
  const PricedItem* item = prices.find(id);
  return item && item->price.basis == PriceBasis::mass ? std::optional(item->price.money_per_si) : std::nullopt;
}

bool shares(const std::vector<std::string>& a, const std::vector<std::string>& b) {
  return std::any_of(a.begin(), a.end(), [&](const std::string& x) { return std::find(b.begin(), b.end(), x) != b.end(); });
}

/// Whether a wish of the question leaves it out.
bool unwished(const RankQuestion& q, const Legume& l, const Prices& prices) {
  if (shares(q.without_allergens, l.allergens)) return true;
  if (std::any_of(q.without_hazards.begin(), q.without_hazards.end(), [&](Hazard h) { return l.has(h); })) return true;
  const auto price = seed_price(prices, l.id);
  return q.under && price && *price > *q.under;
}

/// One legume by the recipe, or why it cannot be ranked.
Result<Ranked> judged(const RankQuestion& q, const Legume& l, const Prices& prices, const Catalogue& catalogue) {
  const auto cannot = [](std::string why) { return fail(Problem{"out-of-reach", {}, std::move(why), "", ""}); };
  Ranked r{l.id, l.kitchen_name, 0, {}, seed_price(prices, l.id), 0, 0, 0, l.allergens, l.hazards};
  if (q.under && !r.seed_price) return cannot("no price is told for it");
  InputTexts texts = q.texts;
  texts.set.push_back("/legume=" + l.id);
  const auto b = plan_texts(std::move(texts), catalogue);
  if (!b) return fail(b.error());
  for (const Caution& c : cautions(facts_of(*b)))
    if (c.severity == Severity::stop) return cannot(c.text);
  const auto v = value(*q.by, *b);
  if (!v) return cannot(r.seed_price ? "it has no " + q.by->plain : "no price is told for it");
  r.value = *v;
  r.range = response_ranges(*b, std::array{q.by}, sample_for(b->setup.beliefs))[0];
  count_known(l, r);
  return r;
}

}  // namespace

Ranking rank_legumes(const RankQuestion& q, const Catalogue& catalogue) {
  Ranking ranking;
  const auto kitchen = read_inputs(q.texts);
  const Prices prices = kitchen ? prices_of(kitchen->kitchen) : Prices{};
  ranking.currency = prices.currency;
  const std::vector<std::string> ids = catalogue.legume_ids();
  for (std::size_t i = 0; i < ids.size(); ++i) {
    if (q.go_on && !q.go_on(i, ids.size())) {
      ranking.whole = false;
      break;
    }
    const auto l = catalogue.legume(ids[i]);
    if (!l) continue;
    if (unwished(q, *l, prices)) {
      ++ranking.unwished;
      continue;
    }
    auto r = judged(q, *l, prices, catalogue);
    if (r)
      ranking.ranked.push_back(std::move(*r));
    else
      ranking.left_out.push_back({l->id, l->kitchen_name, r.error().front().what});
  }
  const bool least = q.least_first;
  std::stable_sort(ranking.ranked.begin(), ranking.ranked.end(), [least](const Ranked& a, const Ranked& b) { return least ? a.value < b.value : a.value > b.value; });
  return ranking;
}

Result<void> read_without(std::string_view text, RankQuestion& q) {
  const auto colon = text.find(':');
  const std::string_view kind = text.substr(0, colon), word = colon == std::string_view::npos ? "" : text.substr(colon + 1);
  const auto unknown = [&](std::span<const std::string_view> known) {
    return fail(Problem{"word-unknown", {}, fmt::format("no {} is called {}", kind, text::quoted(word)), "", text::suggest(word, known)});
  };
  if (kind == "allergen") {
    for (std::string_view a : known_allergens)
      if (a == word || (a == "soybean" && word == "soy")) {
        q.without_allergens.emplace_back(a);
        return {};
      }
    return unknown(known_allergens);
  }
  if (kind == "hazard") {
    const auto hazard = from_word<Hazard>(word);
    if (!hazard) return unknown(word_list<Hazard>);
    q.without_hazards.push_back(*hazard);
    return {};
  }
  return fail(Problem{"word-unknown", {}, fmt::format("{} leaves nothing out", text::quoted(text)), "it is allergen:WORD or hazard:WORD", "write for example allergen:soybean, or hazard:favism"});
}

}  // namespace curdwright
