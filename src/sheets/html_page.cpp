// SPDX-License-Identifier: MIT
#include "sheets/html_page.hpp"

#include <algorithm>

namespace curdwright::sheets {
namespace {

// Colours of straw and bean: every pair of ink and ground has a contrast of 4.5 or more, and nothing is told by colour alone.
constexpr std::string_view style = R"(
:root{--paper:#fffdf7;--ink:#1d2420;--soft:#56615a;--line:#c9c5b4;--bean:#2f5d3a;--straw:#f1ecdc;--care:#7a4a00;--carebg:#fdf1d8;--stop:#8e1b12;--stopbg:#fde9e5}
@media (prefers-color-scheme:dark){:root{--paper:#151916;--ink:#ecefe9;--soft:#aab5ac;--line:#454d46;--bean:#a9d6a2;--straw:#222822;--care:#f2c879;--carebg:#2e2614;--stop:#ffab9f;--stopbg:#3a1a16}}
*{box-sizing:border-box}
html{-webkit-text-size-adjust:100%}
body{margin:0;background:var(--paper);color:var(--ink);font:1rem/1.45 "DejaVu Sans","Segoe UI",system-ui,sans-serif;overflow-wrap:break-word}
header,main,footer{max-width:64rem;margin:0 auto;padding:0 1rem}
header{padding-top:1.5rem;border-bottom:.35rem double var(--bean)}
h1{font-size:2rem;line-height:1.15;margin:0 0 .3rem}
.lead{font-size:1.25rem;margin:0 0 1rem}
h2{font-size:1.15rem;letter-spacing:.04em;margin:1.6rem 0 .6rem;color:var(--bean)}
h3{font-size:1.25rem;margin:0;display:flex;flex-wrap:wrap;align-items:baseline;gap:.1rem .7rem}
p{margin:.35rem 0}
a:focus-visible,summary:focus-visible,[tabindex]:focus-visible{outline:3px solid var(--bean);outline-offset:2px}
.weigh{background:var(--straw);border:1px solid var(--line);border-left:.5rem solid var(--bean);padding:.2rem 1rem 1rem;margin:1.2rem 0}
ul,ol{margin:.3rem 0;padding-left:1.3rem}
.amounts{list-style:none;padding:0;margin:.5rem 0}
.amounts li{display:flex;flex-wrap:wrap;gap:0 .8rem;align-items:baseline}
.amounts span{flex:1 1 9rem}
.amounts b{flex:0 0 auto;min-width:7.2rem;text-align:right;font-size:1.35rem;line-height:1.5;font-variant-numeric:tabular-nums}
.small .amounts b,.small.amounts b{font-size:1.05rem;min-width:6.4rem}
.note,.clock{color:var(--soft)}
.clock{font-weight:normal;font-size:1rem}
.number{display:inline-block;min-width:2.1rem;padding:.05rem .3rem;text-align:center;background:var(--bean);color:var(--paper);border-radius:1.1rem;font-size:1.1rem}
.steps{list-style:none;padding:0;margin:0}
.step{border-top:1px solid var(--line);padding:.8rem 0}
.step>:not(h3){margin-left:2.8rem}
.care,.halt,.remark{padding:.35rem .7rem;border:2px solid var(--care);background:var(--carebg)}
.care strong{color:var(--care)}
.halt{border:.25rem solid var(--stop);background:var(--stopbg)}
.halt strong{color:var(--stop)}
.remark{border:1px dashed var(--soft);background:none}
dl{margin:.4rem 0;display:grid;grid-template-columns:5.5rem 1fr;gap:.15rem .7rem}
dt{font-weight:bold}
dd{margin:0}
.ticks{list-style:none;padding:0;margin:0}
.ticks li::before{content:"";display:inline-block;width:.9em;height:.9em;border:2px solid currentColor;margin-right:.55em;vertical-align:-.1em}
.write{display:flex;flex-wrap:wrap;gap:.2rem 1rem;margin-top:.5rem}
.write span.what{flex:1 1 16rem}
.blank{white-space:nowrap}
.blank::after{content:"";display:inline-block;width:4.6rem;border-bottom:1.5px solid currentColor;margin-left:.35rem}
.scroll{overflow-x:auto;max-width:100%}
table{border-collapse:collapse;width:100%;margin:.4rem 0}
caption{text-align:left;color:var(--soft);caption-side:bottom;padding-top:.3rem}
th,td{padding:.2rem .45rem;border-bottom:1px solid var(--line);text-align:right;vertical-align:top;font-variant-numeric:tabular-nums}
td{white-space:nowrap}
th:first-child,td:first-child{text-align:left;font-weight:normal}
thead th{font-weight:bold;border-bottom:2px solid var(--ink)}
.pair{display:grid;grid-template-columns:repeat(auto-fit,minmax(min(100%,20rem),1fr));gap:0 2.2rem}
figure{margin:0 0 1rem;break-inside:avoid}
figcaption{font-weight:bold;margin-bottom:.2rem}
.picture{display:block;width:100%;max-width:30rem;height:auto;font:12px "DejaVu Sans","Segoe UI",system-ui,sans-serif}
.picture text{fill:var(--ink)}.picture .strong{font-weight:bold}.picture .small{font-size:11px}
.picture .halo{paint-order:stroke;stroke:var(--paper);stroke-width:3px}
.stream{fill:var(--bean);opacity:.55}.branch{fill:none;stroke:var(--bean);stroke-width:1;stroke-dasharray:3 2;fill:var(--bean);fill-opacity:.2}
.stage,.hands,.dot,.median{fill:var(--ink)}
.median{stroke:var(--ink);stroke-width:3}
.axis{stroke:var(--ink);stroke-width:1.2;fill:none}.grid{stroke:var(--line);fill:none}
.curve{stroke:var(--bean);stroke-width:2.6;fill:none}.drop{stroke:var(--ink);stroke-width:1.2;stroke-dasharray:3 3;fill:none}
.limit{stroke:var(--stop);stroke-width:1.4;stroke-dasharray:7 4;fill:none}
.range{fill:var(--bean);opacity:.45}
.wait{fill:url(#hatch);stroke:var(--ink);stroke-width:1}.hatching{stroke:var(--ink);stroke-width:2}
svg:not(.picture){max-width:100%;height:auto}
details{margin:.5rem 0}
summary{cursor:pointer;font-weight:bold}
footer{border-top:.35rem double var(--bean);margin-top:1.5rem;padding-bottom:2rem;color:var(--soft);font-size:.95rem}
@media (max-width:30rem){td{white-space:normal}h1{font-size:1.6rem}.step>:not(h3){margin-left:0}.amounts b{min-width:5.6rem;font-size:1.2rem}dl{grid-template-columns:1fr;gap:0}dd{margin-bottom:.3rem}}
@page{margin:7mm 10mm}
@media print{
:root{--paper:#fff;--ink:#000;--soft:#333;--line:#999;--bean:#000;--straw:#fff;--care:#000;--carebg:#fff;--stop:#000;--stopbg:#fff}
body{font-size:8.2pt;line-height:1.22}
header,main,footer{max-width:none;padding:0}
header{padding-top:0;border-bottom-width:2pt}
h1{font-size:16pt}.lead{font-size:11pt;margin-bottom:3pt}
h2{font-size:10pt;margin:6pt 0 2pt;break-after:avoid}h3{font-size:10.5pt;break-after:avoid;break-inside:avoid}.clock{font-size:8.6pt}
.number{font-size:9pt;min-width:16pt;background:#fff;color:#000;border:1.2pt solid #000}
.flowing{columns:2;column-gap:7mm;column-rule:.4pt solid #999}
.weigh{margin:4pt 0;padding:0 6pt 4pt;break-inside:avoid;border-left-width:3pt}
.step{padding:3pt 0}.step>:not(h3){margin-left:0}.step li,.step dl,.care,.halt,.amounts,.write{break-inside:avoid}.care,.halt{break-after:avoid}
.amounts b{font-size:12pt;line-height:1.2;min-width:54pt}.amounts span{flex-basis:70pt}.amounts li{gap:0 6pt}.small .amounts b,.small.amounts b{font-size:9.5pt;min-width:48pt}
.care,.halt,.remark{padding:1.5pt 4pt}.care{border-width:1.2pt}
p,ul,ol,dl{margin:1.5pt 0}ul,ol{padding-left:11pt}.amounts,.ticks,.steps{padding-left:0}dl{grid-template-columns:48pt 1fr;gap:1pt 4pt}
th,td{padding:.5pt 2pt}td{white-space:normal}.scroll{overflow:visible}thead th{border-bottom-width:1pt}
section{break-inside:auto}.block{break-inside:avoid}
.write{gap:2pt 6pt;margin-top:3pt}.write span.what{flex-basis:100%}.blank::after{width:38pt}
.roomy{font-size:9.2pt}.roomy dl{grid-template-columns:56pt 1fr}.roomy .amounts b{font-size:13.5pt}.roomy h3{font-size:11.5pt}.roomy .clock{font-size:9.4pt}
.screen{display:none}
.picture{max-width:none}
footer{font-size:7.6pt;border-top-width:2pt;margin-top:4pt;padding-bottom:0;columns:2;column-gap:7mm}
}
)";

}  // namespace

std::string html_page(std::string_view title, std::string_view kind, const std::string& body) {
  Html h;
  h.raw("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n");
  // Nothing is fetched and nothing runs, whatever the page may hold.
  h.raw("<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">\n");
  h.raw("<meta name=\"color-scheme\" content=\"light dark\">\n").element("title", title);
  h.raw("<style>").raw(style).raw("</style>\n</head>\n<body class=\"").raw(kind).raw("\">\n").raw(body).raw("</body>\n</html>\n");
  return h.take();
}

void html_grid(Html& h, const HtmlGrid& g) {
  std::size_t columns = g.head.size();
  for (const auto& row : g.rows) columns = std::max(columns, row.size());
  h.raw("<section class=\"scroll\" tabindex=\"0\" aria-label=\"").text(g.heading).raw("\"><table>\n");
  if (!g.note.empty()) h.element("caption", g.note);
  if (!g.head.empty()) {
    h.raw("<thead><tr>");
    for (const std::string& cell : g.head) cell.empty() ? h.raw("<td></td>") : h.element("th scope=\"col\"", cell);
    h.raw("</tr></thead>\n");
  }
  h.raw("<tbody>\n");
  for (const auto& row : g.rows) {
    h.raw("<tr>").element("th scope=\"row\"", row.front());
    for (std::size_t i = 1; i + 1 < row.size(); ++i) h.element("td", row[i]);
    const std::size_t span = columns - row.size() + 1;
    if (row.size() > 1) h.element(span > 1 ? "td colspan=\"" + std::to_string(span) + "\"" : "td", row.back());
    h.raw("</tr>\n");
  }
  h.raw("</tbody></table></section>\n");
}

void html_table(Html& h, const SheetTable& t) {
  HtmlGrid g{t.heading, t.note, {}, {}};
  std::size_t used = 0;
  for (std::size_t i = 0; i < t.columns.size(); ++i)
    if (!t.columns[i].empty() || std::any_of(t.rows.begin(), t.rows.end(), [i](const SheetTable::Row& r) { return !r.cells[i].empty(); })) used = i + 1;
  const auto cells = [used](const std::string& first, const std::array<std::string, 3>& rest) {
    std::vector<std::string> row = {first};
    row.insert(row.end(), rest.begin(), rest.begin() + static_cast<std::ptrdiff_t>(used));
    return row;
  };
  if (std::any_of(t.columns.begin(), t.columns.end(), [](const std::string& c) { return !c.empty(); })) g.head = cells("", t.columns);
  for (const SheetTable::Row& r : t.rows) g.rows.push_back(cells(r.what, r.cells));
  html_grid(h, g);
}

}  // namespace curdwright::sheets
