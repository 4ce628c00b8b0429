#include "render/document.hpp"

namespace mendworth {

const std::string& document_style_rules() {
  static const std::string rules = R"css(
:root { color-scheme: light dark; --paper: #ffffff; --ink: #1b1f24; --soft: #4d5661; --line: #c3c9d1;
  --faint: #e4e8ec; --accent: #0b4a5e; --tint: #f2f6f8; --alarm: #8a1f11; }
@media screen and (prefers-color-scheme: dark) { :root { --paper: #14181d; --ink: #e8ecf0; --soft: #aab4bf;
  --line: #4b5561; --faint: #2c343d; --accent: #8fcbe0; --tint: #1c242c; --alarm: #ff9d8a; } }
* { box-sizing: border-box; }
html { -webkit-text-size-adjust: 100%; text-size-adjust: 100%; }
body { margin: 0 auto; padding: 2.5rem 2rem 4rem; max-width: 54rem; background: var(--paper); color: var(--ink);
  font: 1rem/1.5 system-ui, -apple-system, "Segoe UI", Roboto, "Noto Sans", "Liberation Sans", sans-serif;
  overflow-wrap: anywhere; }
header { margin-bottom: 2.25rem; padding-bottom: 1rem; border-bottom: 3px solid var(--accent); color: var(--soft); }
header p { margin: 0; }
header .shop { margin-bottom: .2rem; color: var(--accent); font-size: 1.5rem; font-weight: 700; line-height: 1.2; }
h1, h2, h3 { margin: 0; line-height: 1.25; break-after: avoid; }
h1 { margin-bottom: .4rem; font-size: 2rem; letter-spacing: -.01em; }
h2 { margin-bottom: .75rem; padding-bottom: .3rem; border-bottom: 1px solid var(--line); color: var(--accent);
  font-size: 1.25rem; }
h3 { margin-bottom: .4rem; font-size: 1.05rem; }
section { margin-top: 2.25rem; }
section.part { margin-top: 1.75rem; }
p { margin: 0 0 .75rem; }
ul { margin: 0 0 .75rem; padding-left: 1.25rem; }
li { margin-bottom: .25rem; }
.strong { font-weight: 700; }
.mark { display: inline-block; margin: 0 0 .75rem; padding: .2rem .7rem; border: 2px solid var(--alarm); color: var(--alarm);
  font-weight: 700; }
.notice { padding: .75rem 1rem; border-left: 4px solid var(--accent); background: var(--tint); font-weight: 600; }
dl { margin: 0; }
dl div { display: grid; grid-template-columns: 14rem minmax(0, 1fr); column-gap: 1rem; padding: .3rem 0; }
dt { grid-column: 1; color: var(--soft); }
dd { grid-column: 2; margin: 0; }
.opening { display: grid; grid-template-columns: repeat(auto-fit, minmax(17rem, 1fr)); gap: .5rem 2.5rem;
  margin-top: 1rem; }
.opening dl div { grid-template-columns: 9rem minmax(0, 1fr); padding: .1rem 0; }
table { width: 100%; border-collapse: collapse; font-variant-numeric: tabular-nums; }
table + p { margin-top: .6rem; }
table + table { margin-top: 1.25rem; }
caption { padding: 0 0 .35rem; color: var(--soft); font-size: .875rem; text-align: left; }
th, td { padding: .35rem 0 .35rem 1rem; overflow-wrap: break-word; text-align: left; vertical-align: top; }
.long { overflow-wrap: anywhere; }
th:first-child { padding-left: 0; }
thead th { color: var(--soft); font-size: .875rem; vertical-align: bottom; }
tbody th { font-weight: 400; }
.total th, .total td, .best th, .best td { font-weight: 700; }
figure { margin: 1.25rem 0; }
figcaption { margin-bottom: .5rem; color: var(--soft); font-size: .875rem; }
figcaption strong { display: block; color: var(--ink); font-size: 1rem; }
figure > svg { display: block; max-width: 100%; height: auto; }
figure > .narrow { display: none; }
details { margin-top: .4rem; font-size: .875rem; }
summary { color: var(--soft); cursor: pointer; }
thead .marked { color: var(--ink); }
@media print, (min-width: 44.01rem) {
  th, td { border-bottom: 1px solid var(--faint); }
  thead th, thead td { border-bottom: 2px solid var(--ink); }
  .sum th, .sum td, .total th, .total td { border-bottom: 0; }
  tr:not(.sum, .total) + .sum th, tr:not(.sum, .total) + .sum td, .total th, .total td {
    border-top: 2px solid var(--ink); }
  .number { text-align: right; }
  td.number { white-space: nowrap; }
  .compare { table-layout: fixed; }
  .compare th, .compare td { padding-right: .75rem; padding-left: .75rem; }
  .compare .number { padding-left: 0; }
  .compare th:first-child { width: 20%; padding-left: 0; color: var(--soft); }
  .figures th:first-child { width: 38%; }
  .marked { background: var(--tint); }
}
.form { margin-top: 1rem; padding: 1.25rem; border: 2px solid var(--ink); border-radius: .25rem; }
.ticks, .blanks { margin: 0; padding: 0; list-style: none; }
.ticks li { position: relative; margin-bottom: .6rem; padding-left: 2rem; }
.ticks li::before { content: ""; position: absolute; left: 0; top: .1rem; width: 1.15rem; height: 1.15rem;
  border: 2px solid var(--ink); }
.blanks { display: grid; grid-template-columns: 1fr 1fr; gap: 0 2rem; }
.blanks li { margin: 0; padding-top: 2.5rem; color: var(--soft); font-size: .875rem; }
.blanks li::before { content: ""; display: block; border-top: 1px solid var(--ink); padding-bottom: .2rem; }
@media screen and (max-width: 44rem) {
  body { padding: 1.25rem 1rem 3rem; }
  h1 { font-size: 1.6rem; }
  figure > .narrow { display: block; }
  figure > .wide { display: none; }
  dl div { grid-template-columns: 1fr; }
  dd { grid-column: 1; }
  .opening, .blanks { grid-template-columns: 1fr; }
  .opening dl div { grid-template-columns: 7rem minmax(0, 1fr); }
  .opening dd { grid-column: 2; }
  table, caption, thead, tbody, tr, th, td { display: block; }
  thead { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
  tbody tr { padding: .6rem 0; border-bottom: 1px solid var(--line); }
  tbody th, tbody td { padding: .1rem 0; }
  tbody tr:not(.sum, .total) th { font-weight: 700; }
  tbody tr:not(.over) td:not(:empty) { display: flex; flex-wrap: wrap; justify-content: space-between; gap: 0 1rem; }
  tbody td:empty { display: none; }
  tbody tr td.sign:not(:empty) { display: block; float: left; margin-right: .4rem; font-weight: 700; }
  tbody th.number::before { content: attr(data-label) " "; color: var(--soft); font-weight: 400; }
  td:not(.sign)::before { content: attr(data-label); max-width: 60%; color: var(--soft); }
  tbody tr.over { display: flex; justify-content: space-between; gap: 0 1rem; padding: .3rem 0; border-bottom: 0; }
  tbody tr.over td { text-align: right; }
  tbody tr.total.over { border-top: 2px solid var(--ink); }
}
@media print {
  @page { margin: 12mm 15mm 14mm; }
  html { font-size: 9pt; }
  body { max-width: none; padding: 0; line-height: 1.27; }
  header { margin-bottom: .7rem; padding-bottom: .4rem; }
  h1 { margin-bottom: .2rem; font-size: 1.5rem; }
  h2 { margin-bottom: .3rem; font-size: 1.1rem; }
  section { margin-top: .9rem; }
  section.part { margin-top: .7rem; }
  .opening, dl + table { margin-top: .4rem; }
  th, td { padding-top: .13rem; padding-bottom: .13rem; }
  thead th, caption, figcaption, details, .blanks li { font-size: .9rem; }
  dl div { grid-template-columns: 11rem minmax(0, 1fr); padding: .08rem 0; }
  p, ul { margin-bottom: .4rem; }
  li { margin-bottom: .1rem; }
  table + table { margin-top: .6rem; }
  figure { margin: .8rem 0; }
  .notice { margin-bottom: .4rem; padding: .4rem .7rem; }
  .form { margin-top: .5rem; padding: .6rem .9rem; }
  .ticks li { margin-bottom: .5rem; }
  .blanks { grid-template-columns: 1fr 1fr 1fr; }
  .blanks li { padding-top: 1.7rem; }
  details:not([open]) { display: none; }
  .opening ~ section > .part, table, tr, dl, figure, .form, .notice, li, p { break-inside: avoid; }
  .tall, figure:has(details[open]) { break-inside: auto; }
  figcaption, figure > svg { break-inside: avoid; break-after: avoid; }
  thead { display: table-header-group; }
  caption, summary, .strong, p:has(+ table), table:has(+ p) { break-after: avoid; }
  .tall td:last-child:not(.number) { min-width: 10rem; }
  .notice, .marked { background: none; }
}
)css" + chart_rules();
  return rules;
}

}  // namespace mendworth
