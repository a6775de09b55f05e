// SPDX-License-Identifier: MIT
// What the readers of records share: fields that must be there, and a whole file.
#pragma once

#include <fmt/format.h>

#include "curdwright/catalogue.hpp"
#include "json/fields.hpp"

namespace curdwright {

inline void text_due(json::Fields& f, std::string_view key, std::optional<std::string>& to, std::string_view about) {
  f.required();
  f.text(key, to, json::max_text, about);
}

template <std::size_t n>
void choice_due(json::Fields& f, std::string_view key, std::optional<std::string>& to, const std::array<std::string_view, n>& words,
                std::string_view about) {
  f.required();
  f.choice(key, to, words, about);
}

template <Worded E>
void choice_due(json::Fields& f, std::string_view key, std::optional<E>& to, std::string_view about) {
  f.required();
  f.choice(key, to, about);
}

template <class Record, class Describe>
Result<Record> read_record(const RecordText& record, std::string_view schema, Record& out, std::optional<std::string>& schema_found,
                           const Describe& describe) {
  auto document = json::parse(record.text, record.shown_as);
  if (!document) return fail(document.error());
  Problems problems;
  json::read_object(*document, document->root, problems, describe);
  json::in_file_order(problems);
  if (problems.empty() && schema_found != schema)
    problems.push_back({"schema-unknown", document->place(*document->root.find("schema"), "/schema"), fmt::format("the schema is \"{}\"", *schema_found),
                        fmt::format("this reader knows \"{}\"", schema), ""});
  if (!problems.empty()) return fail(std::move(problems));
  return std::move(out);
}

}  // namespace curdwright
