import { DECIMAL_POINT } from "../csv.ts";
import type { CsvStyle } from "../csv.ts";
import type { Estimate } from "../estimate-data.ts";
import { counted } from "../names.ts";
import { escaped } from "./markup.ts";
import { pageNumber, paymentTable, priceTable } from "./quote-page-tables.ts";
import { QUOTE_PAGE_STYLE } from "./quote-page-style.ts";

/**
 * The customer's quote as a page to print or to send: HTML without scripts and without anything to
 * load. It holds what the customer is to know, and no inside rate, cost or hour.
 */
export function quotePage(estimate: Estimate, style = DECIMAL_POINT): string {
  const { title, reference, terms } = estimate;
  const heading = reference === "" ? "Quote" : `Quote ${reference}`;
  const body = [
    `<header>`,
    `<h1>${escaped(heading)}</h1>`,
    `<p class="subject">${escaped(title)}</p>`,
    parties(estimate),
    facts(estimate),
    `</header>`,
    `<main>`,
    priceTable(estimate, style),
    ...(terms.stages.length === 0 ? [] : [paymentTable(estimate, style)]),
    ...conditions(estimate, style),
    acceptance(estimate, style),
    `</main>`,
  ];
  return [
    `<!DOCTYPE html>`,
    `<html lang="en">`,
    `<head>`,
    `<meta charset="utf-8" />`,
    `<meta name="viewport" content="width=device-width, initial-scale=1" />`,
    `<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'" />`,
    `<title>${escaped(`${heading}: ${title}`)}</title>`,
    `<style>${QUOTE_PAGE_STYLE}</style>`,
    `</head>`,
    `<body>`,
    ...body.filter((line) => line !== ""),
    `</body>`,
    `</html>`,
    ``,
  ].join("\n");
}

function parties({ terms, customer }: Estimate): string {
  const [name = "", ...contacts] = terms.maker;
  const both = [party("From", name, contacts), party("For", customer, [])].filter(
    (one) => one !== "",
  );
  return both.length === 0 ? "" : `<div class="parties">${both.join("")}</div>`;
}

function party(label: string, name: string, contacts: readonly string[]): string {
  if (name === "") return "";
  const lines = [`<span class="name">${escaped(name)}</span>`, ...contacts.map(escaped)];
  return `<div><p class="label">${label}</p><address>${lines.join("<br />")}</address></div>`;
}

function facts({ pieces, pieceName, date, terms, leadTime, reference }: Estimate): string {
  const all = [
    ["Reference", escaped(reference)],
    ["Quoted", escaped(`${pieces} × ${pieceName}`)],
    ["Date", dayText(date)],
    ["Valid until", dayText(terms.validUntil)],
    [
      "Ready",
      leadTime === null ? "" : `${counted(leadTime.workingDays, "working day")} from your order`,
    ],
  ].filter(([, text]) => text !== "");
  return `<dl>${all.map(([name, text]) => `<div><dt>${name}</dt><dd>${text}</dd></div>`).join("")}</dl>`;
}

const MONTHS =
  "January February March April May June July August September October November December".split(
    " ",
  );

/** `20 November 2026`, which nobody reads as another day. */
function dayText(day: string | null): string {
  const [, year, month, of] = /^(\d{4})-(\d{2})-(\d{2})$/.exec(day ?? "") ?? [];
  if (year === undefined) return "";
  return `<time datetime="${day}">${Number(of)} ${MONTHS[Number(month) - 1]} ${year}</time>`;
}

/** What the price holds and what it does not, as the maker has said it. */
function conditions({ terms, currency }: Estimate, style: CsvStyle): readonly string[] {
  const { revisions, notIncluded } = terms;
  const changes =
    revisions &&
    `${counted(revisions.included, "round")} of changes to the design ${revisions.included === 1 ? "is" : "are"} included. ${
      revisions.further === null
        ? "Further ones are quoted before they are made."
        : `Each further one costs ${pageNumber(revisions.further, style)} ${currency.code} net.`
    }`;
  return [
    ...section("Changes", changes === null ? "" : `<p>${changes}</p>`),
    ...section("Not included", list(notIncluded)),
  ];
}

function list(items: readonly string[]): string {
  return items.length === 0
    ? ""
    : `<ul>${items.map((item) => `<li>${escaped(item)}</li>`).join("")}</ul>`;
}

function section(title: string, content: string): readonly string[] {
  return content === "" ? [] : [`<section class="whole"><h2>${title}</h2>${content}</section>`];
}

/** Common practice, no source. */
const VARIATION = "What is changed after the order is priced, and agreed, before it is made.";

function acceptance({ quote, currency, terms }: Estimate, style: CsvStyle): string {
  const total = quote.find(({ kind }) => kind === "total");
  const price =
    total === undefined ? "" : ` at ${pageNumber(total.amount, style)} ${currency.code} with tax`;
  const until = terms.validUntil === null ? "" : `, by ${dayText(terms.validUntil)}`;
  const words = `We order what is listed${price}${until}. ${VARIATION}`;
  const lines = ["Name", "Date", "Signature"].map((label) => `<span class="label">${label}</span>`);
  return `<section class="whole"><h2>Acceptance</h2><p>${words}</p><div class="sign">${lines.join(" ")}</div></section>`;
}
