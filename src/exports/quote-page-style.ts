/**
 * How the customer's page looks: black on white, on A4 and Letter alike (no size is named: CSS Paged
 * Media takes the printer's), and on a screen 320 px wide. Rows stay whole at the end of a page, the
 * heading of the table comes again on the next.
 */
export const QUOTE_PAGE_STYLE = `
@page { margin: 18mm 17mm 20mm; @bottom-right { content: counter(page) " / " counter(pages); font: 8pt sans-serif; } }
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 1rem; max-width: 46rem; color: #000; background: #fff; font: 0.95rem/1.45 "Helvetica Neue", Arial, sans-serif; overflow-wrap: anywhere; }
h1, h2, p, ul, dl, dd, address { margin: 0; }
h1 { font-size: 1.7em; line-height: 1.2; }
h2 { font-size: 1em; margin-top: 1.6em; break-after: avoid; }
.subject { font-size: 1.1em; margin-top: 0.2em; }
.parties { display: flex; flex-wrap: wrap; gap: 1em 3em; margin: 1.4em 0; }
.parties > div { flex: 1 1 12em; }
address { font-style: normal; }
.name { font-weight: bold; }
.label, dt, small { color: #444; font-size: 0.85em; }
small { display: block; font-weight: normal; }
dl { display: flex; flex-wrap: wrap; gap: 0.5em 0; padding: 0.7em 0; border-top: 1px solid #888; border-bottom: 1px solid #888; }
dl > div { margin-right: 2em; }
ul { padding-left: 1.2em; }
table { width: 100%; margin-top: 1.6em; border-collapse: collapse; }
caption { padding-bottom: 0.3em; text-align: left; font-weight: bold; }
th, td { padding: 0.25em 0 0.25em 0.6em; text-align: left; vertical-align: top; font-weight: normal; }
th:first-child { padding-left: 0; }
thead th { color: #444; font-size: 0.85em; vertical-align: bottom; border-bottom: 1px solid #000; }
.number { text-align: right; white-space: nowrap; font-variant-numeric: tabular-nums; }
.section th, .alone > * { padding-top: 0.8em; }
.section th, .alone th { font-weight: bold; }
.sums tr:first-child > * { border-top: 1px solid #000; }
.total > * { font-weight: bold; border-top: 1px solid #888; border-bottom: 3px double #000; }
tr, .sums, .whole { break-inside: avoid; }
.section { break-after: avoid; }
.sign { display: flex; flex-wrap: wrap; gap: 0 2em; }
.sign > span { flex: 1 1 9em; margin-top: 3em; border-top: 1px solid #000; }
@media (max-width: 30em) {
  body { padding: 0.6rem; font-size: 0.8rem; }
  th, td { padding-left: 0.35em; }
}
@media print {
  body { padding: 0; max-width: none; font-size: 10pt; }
}
`;
