// SPDX-License-Identifier: MIT
#include "diary_lines.hpp"

#include <fmt/format.h>

#include <boost/crc.hpp>
#include <charconv>
#include <cstdlib>
#include <nlohmann/json.hpp>

#include "json/document.hpp"
#include "text/spoken.hpp"

namespace curdwright {
namespace diary {
namespace {

using Json = nlohmann::ordered_json;

constexpr std::string_view sum_key = ",\"sum\":\"";
constexpr std::size_t sum_digits = 8, sum_bytes = sum_key.size() + sum_digits + 2;  // the digits, a quote, a bracket

// --- out ------------------------------------------------------------------------------------------

/// A difference of weighings ends in noise that no scale has.
double without_noise(double v) { return text::to_digits(v, 12); }

Json amounts_json(const std::vector<DiaryAmount>& all) {
  Json list = Json::array();
  for (const DiaryAmount& a : all) {
    Json j = {{"word", a.word}};
    if (!a.legume.empty()) j["legume"] = a.legume;
    j["value"] = without_noise(a.value);
    if (!a.unit.empty()) j["unit"] = a.unit;
    list.push_back(std::move(j));
  }
  return list;
}

Json leftovers_json(const std::vector<DiaryLeftover>& all) {
  Json list = Json::array();
  for (const DiaryLeftover& l : all) {
    Json j = {{"what", word(l.what)}, {"mass_kg", without_noise(l.mass_kg)}, {"ready_after_s", l.ready_after.si()}, {"keeps_days", l.keeps_days}, {"care", l.care}};
    if (!l.record.empty()) j["record"] = l.record;
    if (!l.not_again.empty()) j["not_again"] = l.not_again;
    list.push_back(std::move(j));
  }
  return list;
}

void write(Json& j, const DiaryStart& s) {
  j["title"] = s.title, j["legumes"] = s.legumes;
  j["versions"] = {{"program", s.program}, {"data", s.data}, {"model", s.model}};
  j["recipe"] = s.recipe, j["recipe_file"] = s.recipe_file;
  if (s.kitchen) j["kitchen"] = *s.kitchen, j["kitchen_file"] = s.kitchen_file;
  j["set"] = s.set;
  if (!s.records.empty()) {
    j["records"] = Json::array();
    for (const RecordText& r : s.records) j["records"].push_back({{"path", r.path}, {"text", r.text}});
  }
  j["planned"] = amounts_json(s.planned);
  j["figures"] = Json::array();
  for (const DiaryFigure& f : s.figures) j["figures"].push_back({{"figure", f.key}, {"value", without_noise(f.value)}, {"low", without_noise(f.low)}, {"high", without_noise(f.high)}});
  if (s.money) j["money"] = {{"currency", s.money->currency}, {"total", s.money->total}, {"per_block", s.money->per_block}};
  j["made_after_s"] = s.made_after.si(), j["last_day"] = s.last_day;
  j["leftovers"] = leftovers_json(s.leftovers);
  // Median and spread by legume and parameter: there are about a hundred in every start.
  j["beliefs"] = Json::object();
  for (const DiaryBelief& b : s.beliefs) j["beliefs"][b.legume][b.parameter] = {without_noise(b.median), without_noise(b.spread)};
}

void write(Json& j, const DiaryAdded& a) {
  if (!a.readings.empty()) j["readings"] = Json::array();
  for (const DiaryReading& r : a.readings) {
    Json reading = {{"word", r.word}, {"told", r.told}, {"value", without_noise(r.value)}};
    if (!r.unit.empty()) reading["unit"] = r.unit;
    if (r.weighings > 1) reading["weighings"] = r.weighings;
    j["readings"].push_back(std::move(reading));
  }
  if (!a.withdrawn.empty()) j["withdrawn"] = a.withdrawn;
  if (!a.seen.empty()) j["seen"] = Json::array();
  for (const DiarySighting& s : a.seen) j["seen"].push_back({{"what", s.what}, {"how", s.how}});
  if (!a.note.empty()) j["note"] = a.note;
}

Json scores_json(const std::vector<DiaryScore>& scores) {
  Json list = Json::array();
  for (const DiaryScore& s : scores) list.push_back({{"word", s.word}, {"score", s.score}});
  return list;
}

void write(Json& j, const DiaryScored& s) {
  if (!s.piece.empty()) j["piece"] = s.piece;
  j["scores"] = scores_json(s.scores);
  if (!s.withdrawn.empty()) j["withdrawn"] = s.withdrawn;
}

void write(Json& j, const DiaryPiece& p) {
  j["piece"] = p.name;
  if (p.mass_kg) j["mass_kg"] = *p.mass_kg;
  if (p.aged_s) j["aged_s"] = *p.aged_s;
  if (p.frozen) j["frozen"] = *p.frozen;
  if (p.way) j["way"] = word(*p.way);
  if (p.before_kg) j["before_kg"] = *p.before_kg;
  if (p.after_kg) j["after_kg"] = *p.after_kg;
  if (!p.notes.empty()) j["note"] = p.notes.front().text;
  if (!p.scores.empty()) j["scores"] = scores_json(p.scores);
  if (!p.withdrawn.empty()) j["withdrawn"] = p.withdrawn;
  if (p.gone) j["gone"] = true;
}

constexpr std::array<std::string_view, 4> kinds = {"start", "add", "score", "piece"};  // in the order of the variant

// --- in -------------------------------------------------------------------------------------------

/// Takes values out of an object; what is missing or of another type makes it not `ok`.
class Taker {
 public:
  explicit Taker(const json::Node& node) : node_(node) { ok = node.kind == json::Node::Kind::object; }

  std::string text(std::string_view key, bool due = true) {
    const json::Node* n = get(key, json::Node::Kind::string, due);
    return n ? n->text : std::string();
  }
  template <Worded E>
  std::optional<E> choice(std::string_view key, bool due = true) {
    const json::Node* n = get(key, json::Node::Kind::string, due);
    const std::optional<E> value = n ? from_word<E>(n->text) : std::nullopt;
    ok = ok && (value || !n);
    return value;
  }
  double number(std::string_view key, bool due = true) {
    const json::Node* n = get(key, json::Node::Kind::number, due);
    // Nothing of a kitchen is as large, and sums of it stay numbers.
    if (n && !(std::abs(n->number) <= 1e12)) return ok = false, 0;
    return n ? n->number : 0;
  }
  int count(std::string_view key, bool due = true) {
    const double v = number(key, due);
    if (!(v >= 0 && v <= 1e6)) return ok = false, 0;
    return static_cast<int>(v);
  }
  std::optional<double> number_if(std::string_view key) { return node_.find(key) ? std::optional(number(key)) : std::nullopt; }
  std::optional<bool> flag_if(std::string_view key) {
    const json::Node* n = get(key, json::Node::Kind::boolean, false);
    return n ? std::optional(n->boolean) : std::nullopt;
  }
  std::vector<std::string> texts(std::string_view key, bool due = true) {
    std::vector<std::string> all;
    const json::Node* n = get(key, json::Node::Kind::array, due);
    if (!n) return all;
    for (const json::Node& i : n->items) {
      ok = ok && i.kind == json::Node::Kind::string;
      all.push_back(i.text);
    }
    return all;
  }
  /// Calls `each` with a taker for every object of a list.
  template <class Each>
  void objects(std::string_view key, bool due, Each each) {
    const json::Node* n = get(key, json::Node::Kind::array, due);
    if (!n) return;
    for (const json::Node& i : n->items) {
      Taker t(i);
      if (t.ok) each(t);
      ok = ok && t.ok;
    }
  }
  template <class Each>
  void object(std::string_view key, bool due, Each each) {
    const json::Node* n = get(key, json::Node::Kind::object, due);
    if (!n) return;
    Taker t(*n);
    each(t);
    ok = ok && t.ok;
  }

  /// Calls `each` with the key and a taker for every member that is an object.
  template <class Each>
  void members(Each each) {
    for (const json::Member& m : node_.members) {
      Taker t(m.value);
      if (t.ok) each(m.key, t);
      ok = ok && t.ok;
    }
  }
  /// Calls `each` with the key and both numbers of every member.
  template <class Each>
  void pairs(Each each) {
    for (const json::Member& m : node_.members) {
      const auto& two = m.value.items;
      if (two.size() == 2 && two[0].kind == json::Node::Kind::number && two[1].kind == json::Node::Kind::number)
        each(m.key, two[0].number, two[1].number);
      else
        ok = false;
    }
  }

  bool ok = true;

 private:
  const json::Node* get(std::string_view key, json::Node::Kind kind, bool due) {
    const json::Node* n = node_.find(key);
    if (n ? n->kind != kind : due) ok = false;
    return n && n->kind == kind ? n : nullptr;
  }
  const json::Node& node_;
};

std::vector<DiaryScore> take_scores(Taker& t, bool due, Instant at) {
  std::vector<DiaryScore> all;
  t.objects("scores", due, [&](Taker& s) { all.push_back({s.text("word"), s.number("score"), at}); });
  // A checksum is no seal: what the scales do not have is not told on.
  for (const DiaryScore& s : all) t.ok = t.ok && s.score >= 1 && s.score <= 5;
  return all;
}

void take_rest(Taker& t, DiaryStart& s) {
  t.objects("planned", true, [&](Taker& a) { s.planned.push_back({a.text("word"), a.text("legume", false), a.number("value"), a.text("unit", false)}); });
  t.objects("figures", true, [&](Taker& f) { s.figures.push_back({f.text("figure"), f.number("value"), f.number("low"), f.number("high")}); });
  t.object("money", false, [&](Taker& m) { s.money = DiaryMoney{m.text("currency"), m.number("total"), m.number("per_block")}; });
  s.made_after = seconds(t.number("made_after_s")), s.last_day = t.count("last_day");
  t.objects("leftovers", true, [&](Taker& l) {
    s.leftovers.push_back({l.choice<LeftKind>("what").value_or(LeftKind::pulp), l.number("mass_kg"), seconds(l.number("ready_after_s")), l.count("keeps_days"), l.texts("care"), l.text("record", false), l.text("not_again", false)});
  });
  t.object("beliefs", true, [&](Taker& legumes) {
    legumes.members([&](const std::string& legume, Taker& params) {
      params.pairs([&](const std::string& parameter, double median, double spread) { s.beliefs.push_back({parameter, legume, median, spread}); });
    });
  });
}

DiaryStart take_start(Taker& t) {
  DiaryStart s;
  s.title = t.text("title"), s.legumes = t.texts("legumes");
  t.object("versions", true, [&](Taker& v) { s.program = v.text("program"), s.data = v.text("data"), s.model = v.text("model"); });
  s.recipe = t.text("recipe"), s.recipe_file = t.text("recipe_file");
  const std::string kitchen = t.text("kitchen", false);
  s.kitchen_file = t.text("kitchen_file", false);
  if (!kitchen.empty() || !s.kitchen_file.empty()) s.kitchen = kitchen;
  s.set = t.texts("set");
  t.objects("records", false, [&](Taker& r) { s.records.push_back({r.text("path"), r.text("text"), r.text("path")}); });
  take_rest(t, s);
  return s;
}

DiaryAdded take_added(Taker& t, Instant at) {
  DiaryAdded a;
  t.objects("readings", false, [&](Taker& r) {
    const int weighings = r.count("weighings", false);
    a.readings.push_back({r.text("word"), r.text("told"), r.number("value"), r.text("unit", false), weighings > 0 ? weighings : 1, at, false});
  });
  a.withdrawn = t.texts("withdrawn", false);
  t.objects("seen", false, [&](Taker& s) { a.seen.push_back({s.text("what"), s.text("how"), at}); });
  a.note = t.text("note", false);
  return a;
}

DiaryPiece take_piece(Taker& t, Instant at) {
  DiaryPiece p;
  p.name = t.text("piece");
  p.mass_kg = t.number_if("mass_kg"), p.aged_s = t.number_if("aged_s"), p.frozen = t.flag_if("frozen");
  p.way = t.choice<PieceWay>("way", false);
  p.before_kg = t.number_if("before_kg"), p.after_kg = t.number_if("after_kg");
  for (const std::optional<double>& v : {p.mass_kg, p.aged_s, p.before_kg, p.after_kg}) t.ok = t.ok && (!v || *v >= 0);
  if (std::string note = t.text("note", false); !note.empty()) p.notes.push_back({std::move(note), at});
  p.scores = take_scores(t, false, at), p.withdrawn = t.texts("withdrawn", false), p.gone = t.flag_if("gone").value_or(false);
  p.at = at;
  return p;
}

}  // namespace

std::string checksum(std::string_view bytes) {
  boost::crc_32_type crc;
  crc.process_bytes(bytes.data(), bytes.size());
  return fmt::format("{:08x}", crc.checksum());
}

bool is_whole(std::string_view line) {
  if (line.size() <= sum_bytes || line.size() > max_diary_line || line.front() != '{' || !line.ends_with("\"}")) return false;
  const std::size_t body = line.size() - sum_bytes;
  return line.substr(body, sum_key.size()) == sum_key && line.substr(body + sum_key.size(), sum_digits) == checksum(line.substr(0, body));
}

bool is_sealed(std::string_view line) {
  return line.size() > sum_bytes && line.ends_with("\"}") && line.substr(line.size() - sum_bytes, sum_key.size()) == sum_key;
}

bool looks_ours(std::string_view line) {
  constexpr std::string_view head = "{\"schema\":\"curdwright.diary/";
  const std::size_t both = std::min(line.size(), head.size());
  // What a disk did not get to write reads as zeros.
  return line.substr(0, both) == head.substr(0, both) || line.find_first_not_of('\0') == std::string_view::npos;
}

std::string write_line(const DiaryEvent& event, std::size_t torn_bytes) {
  Json j = {{"schema", diary_schema_name}, {"kind", kinds[event.what.index()]}, {"at", utc_text(event.at)}, {"id", event.id}};
  if (torn_bytes > 0) j["torn_bytes"] = torn_bytes;
  std::visit([&](const auto& what) { write(j, what); }, event.what);
  std::string line = j.dump();
  line.pop_back();
  return line + std::string(sum_key) + checksum(line) + "\"}";
}

std::string_view head_word(std::string_view line, std::string_view key) {
  const std::string wanted = fmt::format("\"{}\":\"", key);
  const auto at = line.substr(0, 256).find(wanted);
  if (at == std::string_view::npos) return {};
  line.remove_prefix(at + wanted.size());
  return line.substr(0, line.find('"'));
}

std::size_t torn_before(std::string_view line) {
  constexpr std::string_view key = "\"torn_bytes\":";
  std::size_t bytes = 0;
  const auto at = line.substr(0, 256).find(key);
  if (at != std::string_view::npos) std::from_chars(line.data() + at + key.size(), line.data() + line.size(), bytes);
  return bytes;
}

std::optional<DiaryEvent> read_line(std::string_view line) {
  const auto document = json::parse(std::string(line), "diary");
  if (!document) return std::nullopt;
  Taker t(document->root);
  const auto at = read_utc(t.text("at"));
  const std::string kind = t.text("kind");
  DiaryEvent e;
  e.id = t.text("id");
  if (!at || e.id.empty() || !t.ok) return std::nullopt;
  e.at = *at;
  if (kind == kinds[0])
    e.what = take_start(t);
  else if (kind == kinds[1])
    e.what = take_added(t, *at);
  else if (kind == kinds[2])
    e.what = DiaryScored{t.text("piece", false), take_scores(t, true, *at), t.texts("withdrawn", false)};
  else if (kind == kinds[3])
    e.what = take_piece(t, *at);
  else
    return std::nullopt;
  if (!t.ok) return std::nullopt;
  return e;
}

std::vector<std::string_view> lines_of(std::string_view text) {
  std::vector<std::string_view> all;
  while (!text.empty()) {
    const auto end = text.find('\n');
    std::string_view line = text.substr(0, end);
    // Another system's editor may have ended the lines in its own way.
    if (line.ends_with('\r') && is_whole(line.substr(0, line.size() - 1))) line.remove_suffix(1);
    all.push_back(line);
    if (end == std::string_view::npos) break;
    text.remove_prefix(end + 1);
  }
  return all;
}

}  // namespace diary

std::string utc_text(Instant at) {
  const auto day = std::chrono::floor<std::chrono::days>(at);
  const std::chrono::year_month_day date(day);
  const auto s = (at - day).count();
  return fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}Z", static_cast<int>(date.year()), static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()), s / 3600, s / 60 % 60, s % 60);
}

std::optional<Instant> read_utc(std::string_view text) {
  constexpr std::string_view form = "0000-00-00T00:00:00Z";
  if (text.size() != form.size()) return std::nullopt;
  for (std::size_t i = 0; i < form.size(); ++i)
    if (form[i] == '0' ? text[i] < '0' || text[i] > '9' : text[i] != form[i]) return std::nullopt;
  const auto number = [&](std::size_t at, std::size_t digits) {
    int v = 0;
    std::from_chars(text.data() + at, text.data() + at + digits, v);
    return v;
  };
  const std::chrono::year_month_day date{std::chrono::year(number(0, 4)), std::chrono::month(static_cast<unsigned>(number(5, 2))), std::chrono::day(static_cast<unsigned>(number(8, 2)))};
  const int hour = number(11, 2), minute = number(14, 2), second = number(17, 2);
  if (!date.ok() || hour > 23 || minute > 59 || second > 59) return std::nullopt;
  return std::chrono::sys_days(date) + std::chrono::hours(hour) + std::chrono::minutes(minute) + std::chrono::seconds(second);
}

}  // namespace curdwright
