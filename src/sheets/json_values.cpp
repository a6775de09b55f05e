// SPDX-License-Identifier: MIT
#include "sheets/json_values.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <span>

#include "text/spoken.hpp"
#include "text/width.hpp"

namespace curdwright {

nlohmann::ordered_json number(double v) {
  if (!std::isfinite(v)) return nullptr;
  if (std::abs(v) < 1e-12) return 0.0;
  return text::to_digits(v, 9);
}

nlohmann::ordered_json caution_json(const Caution& c) {
  return {{"rule", c.rule}, {"severity", word(c.severity)}, {"stage", word(c.stage)}, {"standing", c.standing}, {"text", c.text}};
}

nlohmann::ordered_json problems_document(const Problems& problems) {
  nlohmann::ordered_json list = nlohmann::ordered_json::array();
  for (const Problem& p : std::span(problems).first(std::min(problems.size(), most_told))) {
    nlohmann::ordered_json j = {{"code", p.code}};
    if (!p.place.file.empty()) j["file"] = text::harmless(p.place.file);
    if (p.place.line > 0) j["line_number"] = p.place.line, j["column_number"] = p.place.column;
    if (!p.place.pointer.empty()) j["pointer"] = p.place.pointer;
    j["what"] = p.what;
    if (!p.why.empty()) j["why"] = p.why;
    if (!p.fix.empty()) j["fix"] = p.fix;
    list.push_back(std::move(j));
  }
  return {{"schema", "curdwright.problems/1"}, {"problems", list}};
}

std::string printed(const nlohmann::ordered_json& document, Layout layout) {
  constexpr auto replace = nlohmann::ordered_json::error_handler_t::replace;
  if (layout == Layout::line) return shortened(document.dump(-1, ' ', false, replace));
  return shortened(document.dump(2, ' ', false, replace)) + "\n";
}

std::string shortened(const std::string& text) {
  constexpr std::size_t long_number = 12;
  std::string out;
  out.reserve(text.size());
  for (std::size_t i = 0; i < text.size();) {
    std::size_t end = i + 1;
    if (text[i] == '"') {
      while (text[end] != '"') end += text[end] == '\\' ? 2 : 1;
      ++end;
    } else if (text[i] == '-' || (text[i] >= '0' && text[i] <= '9')) {
      end = std::min(text.find_first_not_of("+-.0123456789eE", i), text.size());
      double v = 0;
      if (end - i > long_number && std::from_chars(text.data() + i, text.data() + end, v).ec == std::errc()) {
        std::array<char, 32> digits{};
        out.append(digits.data(), std::to_chars(digits.data(), digits.data() + digits.size(), v).ptr);
        i = end;
        continue;
      }
    }
    out.append(text, i, end - i);
    i = end;
  }
  return out;
}

}  // namespace curdwright
