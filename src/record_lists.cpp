// SPDX-License-Identifier: MIT
// The files of data/ that hold one list each: refused seeds and salts, sources, figures of the model.
#include <fmt/format.h>

#include "record_reading.hpp"
#include "records.hpp"

namespace curdwright {

using json::Fields;

namespace {

void describe_refused(Fields& f, Refused& r) {
  std::optional<std::string> id, what, name, rule, reason, source, instead;
  text_due(f, "id", id, ""), text_due(f, "what", what, "seed or salt"), text_due(f, "name", name, "");
  f.texts("also", r.also, 32, "");
  text_due(f, "rule", rule, "");
  f.required(), f.text("reason", reason, 400, "");
  text_due(f, "source", source, ""), text_due(f, "instead", instead, "");
  r.id = id.value_or(""), r.what = what.value_or(""), r.name = name.value_or(""), r.rule = rule.value_or("");
  r.reason = reason.value_or(""), r.source = source.value_or(""), r.instead = instead.value_or("");
}

}  // namespace

Result<std::vector<Refused>> read_refused(const RecordText& record) {
  std::vector<Refused> list;
  std::optional<std::string> schema;
  return read_record(record, "curdwright.refused/1", list, schema, [&](Fields& f) {
    text_due(f, "schema", schema, "curdwright.refused/1");
    f.required();
    f.list("refused", list, 200, "seeds and salts that are never planned", describe_refused);
  });
}

Result<std::map<std::string, Citation>> read_citations(const RecordText& record) {
  auto document = json::parse(record.text, record.shown_as);
  if (!document) return fail(document.error());
  std::map<std::string, Citation> all;
  const json::Node* sources = document->root.find("sources");
  if (!sources || sources->kind != json::Node::Kind::object)
    return fail(Problem{"key-missing", document->place(document->root, ""), "there is no object \"sources\"", "each source stands in it by its id", "write \"sources\": { \"ID\": { \"cite\": \"...\" } }"});
  for (const json::Member& m : sources->members) {
    const json::Node* cite = m.value.find("cite");
    const json::Node* read = m.value.find("read");
    if (!cite || !read || cite->text.empty() || read->text.empty())
      return fail(Problem{"key-missing", document->place(m.begin, "/sources" + json::pointer_step(m.key)), fmt::format("the source \"{}\" is not whole", m.key),
                          "it needs \"cite\" and \"read\"", ""});
    all[m.key] = {cite->text, read->text};
  }
  return all;
}

Result<std::vector<std::pair<Param, Evidence>>> read_model(const RecordText& record) {
  std::vector<std::pair<Param, Evidence>> all;
  all.reserve(param_count);
  std::optional<std::string> schema;
  return read_record(record, "curdwright.model/1", all, schema, [&](Fields& f) {
    text_due(f, "schema", schema, "curdwright.model/1");
    f.required(), f.group("parameters", "figures of the model", [&](Fields& g) {
      for (const ParamInfo& p : all_params()) {
        if (p.scope != Scope::model) continue;
        Evidence e;
        g.evidence(p.key, e, p.unit, p.link, false, p.plain);
        all.emplace_back(p.param, e);
      }
    });
  });
}

}  // namespace curdwright
