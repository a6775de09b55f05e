// SPDX-License-Identifier: MIT
#include "curdwright/best.hpp"

#include <fmt/format.h>
#include <nlopt.h>

#include <algorithm>
#include <cmath>
#include <memory>

#include "curdwright/cautions.hpp"
#include "text/letters.hpp"
#include "text/width.hpp"

namespace curdwright {
namespace {

/// A condition that is missed by less than this share of its limit counts as kept: far below what anyone can weigh.
constexpr double missed_by = 1e-6;
/// Where nothing can be planned, the search is told that it is this far out.
constexpr double far_out = 10;
/// What rounding the settings for people may take from the aim.
constexpr double lost_by_rounding = 2e-3;
/// By how much a limit is moved to see what it costs: of a condition's limit, of the breadth of a room.
constexpr double give_way = 0.05, give_room = 0.10;
/// A gain below this is told as none.
constexpr double worth_telling = 5e-4;
constexpr std::size_t most_starts = 3;

/// One point of the search, and what came of it.
struct Point {
  std::vector<std::size_t> listed;  ///< level of each listed room
  std::vector<double> x;            ///< place of each other room between its ends, 0 to 1
  double aim = -1e300;              ///< larger is better
  double out = far_out;             ///< by how much the worst condition is missed, relative; 0 when all are kept
  std::vector<double> missed;       ///< of each condition, and of safety; below 0 where kept
};

bool better(const Point& a, const Point& b) {
  const bool a_kept = a.out <= missed_by, b_kept = b.out <= missed_by;
  if (a_kept != b_kept) return a_kept;
  return a_kept ? a.aim > b.aim : a.out < b.out;
}

class Search {
 public:
  Search(const Question& q, const Catalogue& catalogue) : q_(q), catalogue_(catalogue) {
    for (const Room& r : q.let) (r.listed() ? listed_ : open_).push_back(&r);
  }

  [[nodiscard]] const std::vector<const Room*>& listed() const { return listed_; }
  [[nodiscard]] const std::vector<const Room*>& open() const { return open_; }
  [[nodiscard]] std::size_t plans() const { return plans_; }
  [[nodiscard]] const Problems& last_problems() const { return problems_; }

  [[nodiscard]] double number(std::size_t open, double x) const {
    const Room& r = *open_[open];
    const double v = r.low + x * (r.high - r.low);
    return r.whole ? std::round(v) : v;
  }
  [[nodiscard]] std::vector<std::string> settings(const Point& p) const {
    std::vector<std::string> all;
    std::size_t listed = 0, open = 0;
    for (const Room& r : q_.let) {
      if (r.listed())
        all.push_back(r.pointer + "=" + r.levels[p.listed[listed]].text), ++listed;
      else
        all.push_back(r.setting(number(open, p.x[open]))), ++open;
    }
    return all;
  }
  /// The batch with these settings.
  [[nodiscard]] Result<Batch> plan_at(const std::vector<std::string>& settings, Rounding rounding) const {
    InputTexts texts = q_.texts;
    texts.set.insert(texts.set.end(), settings.begin(), settings.end());
    return plan_texts(std::move(texts), catalogue_, rounding);
  }
  void look(Point& p, Rounding rounding = Rounding::none) {
    ++plans_;
    const auto b = plan_at(settings(p), rounding);
    if (!b) problems_ = b.error();
    judge(p, b ? &*b : nullptr);
  }
  /// Aim and conditions of a batch; none: it cannot be planned.
  void judge(Point& p, const Batch* b) const {
    p.missed.assign(q_.keep.size() + 1, far_out);
    p.aim = -1e300, p.out = far_out;
    const auto aim = b ? value(*q_.aim.response, *b) : std::nullopt;
    if (!aim) return;
    p.aim = q_.aim.most ? *aim : -*aim;
    for (std::size_t i = 0; i < q_.keep.size(); ++i) p.missed[i] = missed(q_.keep[i], *b);
    p.missed.back() = stops(cautions(facts_of(*b))) ? 1.0 : -0.01;
    p.out = std::max(0.0, *std::max_element(p.missed.begin(), p.missed.end()));
  }
  /// From many points of one combination to its best.
  Point search(const std::vector<std::size_t>& listed) {
    std::vector<Point> points = scattered(listed);
    std::sort(points.begin(), points.end(), better);
    Point found = points.front();
    if (open_.empty()) return found;
    for (std::size_t i = 0; i < std::min(most_starts, points.size()); ++i) climb(points[i], 0.15, found);
    // Once more from the best, with small steps: the first way there may have ended at a kink.
    Point again = found;
    climb(again, 0.02, found);
    return found;
  }
  /// Goes on from one point; what is better than `found` takes its place.
  void climb(const Point& from, double step, Point& found);

 private:
  static double missed(const Condition& c, const Batch& b) {
    const auto v = value(*c.response, b);
    if (!v) return far_out;
    return (c.at_most ? *v - c.limit : c.limit - *v) / std::max(std::abs(c.limit), 1e-9);
  }
  std::vector<Point> scattered(const std::vector<std::size_t>& listed) {
    if (open_.empty()) {
      std::vector<Point> one(1);
      one[0].listed = listed;
      look(one[0]);
      return one;
    }
    // A power of two, as the sequence asks; and the corners and the middle, where optima often lie.
    const int count = open_.size() <= 1 ? 16 : open_.size() == 2 ? 32 : 64;
    const std::vector<double> z = sobol_normals(count, open_.size(), 1);
    std::vector<Point> points;
    const auto add = [&](std::vector<double> x) {
      points.push_back({listed, std::move(x), 0, 0, {}});
      look(points.back());
    };
    for (std::size_t k = 0; k < static_cast<std::size_t>(count); ++k) {
      std::vector<double> x(open_.size());
      for (std::size_t d = 0; d < x.size(); ++d) x[d] = 0.5 * std::erfc(-z[k * x.size() + d] / std::sqrt(2.0));
      add(std::move(x));
    }
    for (std::size_t corner = 0; corner < (std::size_t{1} << std::min<std::size_t>(open_.size(), 4)); ++corner) {
      std::vector<double> x(open_.size(), 0.5);
      for (std::size_t d = 0; d < std::min<std::size_t>(x.size(), 4); ++d) x[d] = (corner >> d & 1U) != 0 ? 1.0 : 0.0;
      add(std::move(x));
    }
    return points;
  }

  const Question& q_;
  const Catalogue& catalogue_;
  std::vector<const Room*> listed_, open_;
  std::size_t plans_ = 0;
  Problems problems_;
};

/// What NLopt is told of one point: aim and conditions are asked for one after the other, and planned once.
struct Asked {
  Search& search;
  Point& found;
  Point last;
  double aim_scale = 1;

  void at(unsigned n, const double* x) {
    if (last.x.size() == n && std::equal(x, x + n, last.x.begin()) && !last.missed.empty()) return;
    last.x.assign(x, x + n);
    search.look(last);
    if (better(last, found)) found = last;
  }
};

double aim_of(unsigned n, const double* x, double*, void* data) {
  Asked& a = *static_cast<Asked*>(data);
  a.at(n, x);
  return a.last.aim < -1e299 ? far_out : -a.last.aim / a.aim_scale;
}
void missed_of(unsigned m, double* result, unsigned n, const double* x, double*, void* data) {
  Asked& a = *static_cast<Asked*>(data);
  a.at(n, x);
  std::copy_n(a.last.missed.begin(), m, result);
}

void Search::climb(const Point& from, double step, Point& found) {
  const auto n = static_cast<unsigned>(open_.size());
  Asked asked{*this, found, from, std::max(1e-300, std::abs(from.aim) < 1e299 ? std::abs(from.aim) : 1.0)};
  asked.last.missed.clear();
  const std::unique_ptr<nlopt_opt_s, decltype(&nlopt_destroy)> opt(nlopt_create(NLOPT_LN_COBYLA, n), nlopt_destroy);
  const std::vector<double> tolerances(q_.keep.size() + 1, 0.1 * missed_by);
  nlopt_set_lower_bounds1(opt.get(), 0), nlopt_set_upper_bounds1(opt.get(), 1);
  nlopt_set_min_objective(opt.get(), aim_of, &asked);
  nlopt_add_inequality_mconstraint(opt.get(), static_cast<unsigned>(tolerances.size()), missed_of, &asked, tolerances.data());
  nlopt_set_initial_step1(opt.get(), step);
  nlopt_set_xtol_abs1(opt.get(), 1e-6);
  nlopt_set_maxeval(opt.get(), static_cast<int>(80 + 60 * n));
  std::vector<double> x = from.x;
  double value = 0;
  // How it ended does not matter: the best of all points that were looked at is kept.
  nlopt_optimize(opt.get(), x.data(), &value);
}

/// A round number near a place of a room, as fine as a share of its breadth.
double rounded(const Room& r, double x, double share, int up) {
  const double rough = share * (r.high - r.low), power = std::pow(10, std::floor(std::log10(rough)));
  const double step = rough >= 5 * power ? 5 * power : rough >= 2 * power ? 2 * power : power;
  const double v = r.low + x * (r.high - r.low), to = (up == 0 ? std::round(v / step) : up > 0 ? std::ceil(v / step) : std::floor(v / step)) * step;
  return (std::clamp(to, r.low, r.high) - r.low) / (r.high - r.low);
}

/// The roundest settings near a point with which the batch, rounded to the scales, keeps all conditions and loses next to nothing.
Point rounded_for_people(Search& s, const Point& found) {
  const std::size_t n = s.open().size();
  Point kept = found;
  s.look(kept, Rounding::to_scales);
  for (double share : {0.02, 0.01, 0.005, 0.002, 0.001, 1e-4}) {
    Point round = found;
    round.out = far_out;
    const std::size_t ways = n == 0 ? 0 : n <= 4 ? (std::size_t{1} << n) + 1 : 1;
    for (std::size_t way = 0; way < ways; ++way) {
      Point p = found;
      for (std::size_t d = 0; d < n; ++d) p.x[d] = rounded(*s.open()[d], found.x[d], share, way == 0 ? 0 : (way - 1) >> d & 1U ? 1 : -1);
      s.look(p, Rounding::to_scales);
      if (better(p, round)) round = p;
    }
    if (round.out <= missed_by && found.aim - round.aim <= lost_by_rounding * std::abs(found.aim)) return round;
    if (better(round, kept)) kept = round;
  }
  return kept;
}

/// Every combination of listed levels.
std::vector<std::vector<std::size_t>> combinations(const std::vector<const Room*>& listed) {
  std::vector<std::vector<std::size_t>> all(1);
  for (const Room* r : listed) {
    std::vector<std::vector<std::size_t>> longer;
    for (const auto& c : all)
      for (std::size_t level = 0; level < r->levels.size(); ++level) {
        longer.push_back(c);
        longer.back().push_back(level);
      }
    all = std::move(longer);
  }
  return all;
}

/// The best from a point on, with one limit moved.
std::optional<double> aim_with(const Question& changed, const Catalogue& catalogue, const Point& from, std::size_t& plans) {
  Search s(changed, catalogue);
  Point start = from;
  s.look(start);
  Point found = start;
  if (!s.open().empty()) s.climb(start, 0.1, found), s.climb(Point(found), 0.02, found);
  plans += s.plans();
  return found.out <= missed_by ? std::optional(found.aim) : std::nullopt;
}

std::string short_number(double v) { return fmt::format("{:.4g}", v); }

/// What each limit costs that holds the aim back.
void relax(const Question& q, const Catalogue& catalogue, const Point& found, Answer& a) {
  const auto told = [&](double aim) { return q.aim.most ? aim : -aim; };
  const auto gain = [&](double aim) { return (aim - found.aim) / std::max(1e-300, std::abs(found.aim)); };
  a.binds.assign(q.keep.size(), false);
  for (std::size_t i = 0; i < q.keep.size(); ++i) {
    if (found.missed.size() <= i || found.missed[i] < -give_way) continue;
    Question changed = q;
    double& limit = changed.keep[i].limit;
    limit += (q.keep[i].at_most ? give_way : -give_way) * std::max(std::abs(limit), 1e-9);
    const auto aim = aim_with(changed, catalogue, found, a.plans);
    a.binds[i] = aim && gain(*aim) > worth_telling;
    if (a.binds[i]) a.relaxed.push_back({q.keep[i].text, limit, q.keep[i].response, "", told(*aim)});
  }
  std::size_t open = 0;
  for (std::size_t i = 0; i < q.let.size(); ++i) {
    if (q.let[i].listed()) continue;
    const double x = found.x[open++];
    if (x > 0.001 && x < 0.999) continue;
    Question changed = q;
    Room& room = changed.let[i];
    const double breadth = room.high - room.low, end = x < 0.5 ? room.low : room.high;
    // The other end moves along, so that the place of the point stays what it is.
    (x < 0.5 ? room.low : room.high) += (x < 0.5 ? -give_room : give_room) * breadth;
    Point from = found;
    from.x[open - 1] = x < 0.5 ? give_room / (1 + give_room) : 1 / (1 + give_room);
    const auto aim = aim_with(changed, catalogue, from, a.plans);
    if (aim && gain(*aim) > worth_telling)
      a.relaxed.push_back({fmt::format("{}, its {} end {}", room.pointer, x < 0.5 ? "lower" : "upper", short_number(end)), x < 0.5 ? room.low : room.high, nullptr, room.unit, told(*aim)});
  }
  std::sort(a.relaxed.begin(), a.relaxed.end(), [&](const Relaxed& one, const Relaxed& other) { return q.aim.most ? one.aim > other.aim : one.aim < other.aim; });
}

/// The response itself, from the share by which it misses its limit.
double reached(const Condition& c, double missed) { return c.limit + (c.at_most ? missed : -missed) * std::max(std::abs(c.limit), 1e-9); }

/// Behind a number; of money the kitchen's currency is known to the reader.
std::string unit_of(const Response& r) { return r.unit.empty() || r.unit == "money" ? "" : " " + r.unit; }

Problem out_of_reach(const Question& q, const Search& s, const Point& nearest) {
  if (nearest.missed.empty() || nearest.aim < -1e299) return {"out-of-reach", {}, "no choice of these settings can be planned", s.last_problems().empty() ? "" : s.last_problems()[0].what, "widen the room with --let, or see what `curdwright sheet` says of the recipe"};
  std::string settings, missed;
  for (const std::string& one : s.settings(nearest)) settings += (settings.empty() ? "" : ", ") + one;
  for (std::size_t i = 0; i < q.keep.size(); ++i)
    if (nearest.missed[i] > missed_by) missed += fmt::format("{}{}, where it comes to {:.4g}{}", missed.empty() ? "" : ", ", q.keep[i].text, reached(q.keep[i], nearest.missed[i]) * q.keep[i].response->to_unit, unit_of(*q.keep[i].response));
  if (nearest.missed.back() > 0) missed += fmt::format("{}a rule of safety stops it", missed.empty() ? "" : ", ");
  return {"out-of-reach", {}, "no choice of these settings keeps all conditions", fmt::format("the nearest is {}: {}", settings.empty() ? "the recipe itself" : settings, missed), "ease a condition, or widen the room"};
}

/// A search for a cost finds nothing where no price is told.
std::optional<Problem> unpriced_question(const Question& q, const Catalogue& catalogue) {
  const auto plain = plan_texts(q.texts, catalogue, Rounding::none);
  if (!plain) return std::nullopt;  // the search may still find settings with which it can be planned
  const auto unpriced = [&](const Response& r) { return r.key.find("cost") != std::string::npos && !value(r, *plain); };
  if (unpriced(*q.aim.response)) return without_price(*q.aim.response);
  const auto c = std::find_if(q.keep.begin(), q.keep.end(), [&](const Condition& o) { return unpriced(*o.response); });
  return c == q.keep.end() ? std::nullopt : std::optional(without_price(*c->response));
}

Problems wrong_question(const Question& q, std::size_t combinations) {
  Problems problems;
  if (q.let.empty()) problems.push_back({"one-of", {}, "nothing may be chosen", "a search needs a setting that may change", "add --let /starch/time=10min:2h, for example"});
  if (q.let.size() > max_let) problems.push_back({"out-of-range", {}, fmt::format("{} settings may be chosen", q.let.size()), fmt::format("at most {} can be searched together", max_let), "leave the others as they are"});
  if (combinations > max_combinations) problems.push_back({"out-of-range", {}, fmt::format("the lists have {} combinations", combinations), fmt::format("at most {} can be searched", max_combinations), "shorten the lists"});
  for (std::size_t i = 0; i < q.let.size(); ++i)
    for (std::size_t k = 0; k < i; ++k)
      if (q.let[i].pointer == q.let[k].pointer) problems.push_back({"one-of", {}, fmt::format("{} may be chosen twice", q.let[i].pointer), "", "keep one of them"});
  return problems;
}

}  // namespace

Result<Aim> read_aim(std::string_view key, bool most) {
  const auto r = find_response(text::trimmed(key));
  if (!r) return fail(r.error());
  return Aim{*r, most};
}

Result<Condition> read_condition(std::string_view text) {
  const auto sign = text.find_first_of("<>");
  if (sign == std::string_view::npos || sign == 0)
    return fail(Problem{"factor-unreadable", {}, fmt::format("{} is no condition", text::quoted(text)), "it needs a figure, <= or >=, and a limit", "write for example \"starch_fraction<=0.03\""});
  const auto response = find_response(text::trimmed(text.substr(0, sign)));
  if (!response) return fail(response.error());
  std::string_view limit = text.substr(sign + 1);
  if (limit.starts_with('=')) limit.remove_prefix(1);
  const auto number = read_amount(**response, text::trimmed(limit));
  if (!number) return fail(number.error());
  return Condition{*response, text[sign] == '<', *number, std::string(text::trimmed(text))};
}

Result<Answer> best(const Question& q, const Catalogue& catalogue, const std::function<bool(std::size_t, std::size_t)>& go_on) {
  Search s(q, catalogue);
  double count = 1;
  for (const Room* r : s.listed()) count *= static_cast<double>(r->levels.size());
  if (Problems wrong = wrong_question(q, static_cast<std::size_t>(std::min(count, 1e9))); !wrong.empty()) return fail(std::move(wrong));
  if (const auto readable = read_inputs(q.texts); !readable) return fail(readable.error());
  if (auto unpriced = unpriced_question(q, catalogue)) return fail(std::move(*unpriced));
  Answer a;
  Point found;
  const auto all = combinations(s.listed());
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (go_on && !go_on(i, all.size())) {
      a.whole = false;
      break;
    }
    const Point p = s.search(all[i]);
    if (found.missed.empty() || better(p, found)) found = p;
  }
  if (found.out > missed_by) return fail(out_of_reach(q, s, found));
  const Point round = rounded_for_people(s, found);
  a.settings = s.settings(round);
  auto batch = s.plan_at(a.settings, Rounding::to_scales);
  if (!batch) return fail(batch.error());
  a.batch = std::move(*batch);
  a.aim = value(*q.aim.response, a.batch).value_or(0);
  a.range = response_ranges(a.batch, std::array{q.aim.response}, sample_for(a.batch.setup.beliefs))[0];
  for (const Condition& c : q.keep) a.kept.push_back(value(*c.response, a.batch).value_or(0));
  if (const auto plain = s.plan_at({}, Rounding::to_scales)) a.as_it_stands = value(*q.aim.response, *plain);
  a.plans = s.plans();
  relax(q, catalogue, found, a);
  return a;
}

}  // namespace curdwright
