import { SaxesParser } from "saxes";
import { describe, expect, it } from "vitest";
import { DECIMAL_COMMA } from "../../src/csv.ts";
import type { Estimate, QuoteTerms } from "../../src/estimate-data.ts";
import { quotePage } from "../../src/exports/quote-page.ts";
import { Amount } from "../../src/money.ts";
import { estimated, SMALL } from "../helpers/job.ts";

interface Element {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  /** Names of the elements that it stands in, outermost first. */
  readonly within: readonly string[];
  text: string;
}

/** Every element, told by a reader of XML: the page is well-formed in both languages. */
function elementsOf(page: string): readonly Element[] {
  const all: Element[] = [];
  const open: Element[] = [];
  const parser = new SaxesParser();
  parser.on("error", (error) => {
    throw error;
  });
  parser.on("opentag", ({ name, attributes }) => {
    const element = { name, attributes, within: open.map((one) => one.name), text: "" };
    all.push(element);
    open.push(element);
  });
  parser.on("text", (text) => {
    for (const element of open) element.text += text;
  });
  parser.on("closetag", () => void open.pop());
  parser.write(page).close();
  return all;
}

const TERMS: QuoteTerms = {
  maker: ["Reed Lane Works", "3 Reed Lane", "hello@reed-lane.example"],
  validUntil: "2026-12-20",
  stages: [
    { name: "Deposit", due: "on order", percent: "50", amount: "61.73", figure: "stage-1" },
    { name: "Balance", due: "before delivery", percent: "50", amount: "61.72", figure: "stage-2" },
  ],
  revisions: { included: 2, further: "45.00" },
  notIncluded: ["Fixing to the wall", "Electrical work"],
};

const ESTIMATE: Estimate = {
  ...estimated(SMALL),
  reference: "BT-7",
  date: "2026-11-20",
  terms: TERMS,
  leadTime: { workingDays: 12, figure: "lead" },
};

function textOf(elements: readonly Element[], name: string): readonly string[] {
  return elements.filter((one) => one.name === name).map(({ text }) => text.trim());
}

function dear(amount: string): Estimate {
  return { ...ESTIMATE, quote: ESTIMATE.quote.map((line) => ({ ...line, amount })) };
}

describe("quote.html", () => {
  const page = quotePage(ESTIMATE);
  const elements = elementsOf(page);
  const [body = ""] = textOf(elements, "body");

  it("is a page in a language that loads and runs nothing", () => {
    expect(elements[0]).toMatchObject({ name: "html", attributes: { lang: "en" } });
    const names = new Set(elements.map(({ name }) => name));
    for (const name of ["script", "link", "img", "iframe", "object", "form", "a", "base"])
      expect(names).not.toContain(name);
    const attributes = elements.flatMap((one) => Object.keys(one.attributes));
    expect(attributes.filter((name) => /^on|^src|^href|^style$/.test(name))).toEqual([]);
    expect(page).not.toMatch(/url\(|@import|https?:/);
  });

  // WAI tutorial on tables: a caption names it, every header says what it heads.
  it("has tables that can be read aloud", () => {
    const tables = elements.filter(({ name }) => name === "table");
    expect(tables).toHaveLength(2);
    expect(textOf(elements, "caption")).toHaveLength(tables.length);
    for (const { name, attributes, within } of elements.filter((one) => one.name === "th")) {
      const scope = within.includes("thead") ? ["col"] : ["row", "rowgroup"];
      expect([name, scope.includes(attributes["scope"] ?? "")]).toEqual(["th", true]);
    }
    const rows = elements.filter(({ name }) => name === "tr").length;
    expect(elements.filter(({ name }) => name === "th").length).toBeGreaterThanOrEqual(rows);
  });

  // What a quote should hold: trade guide, in the trade facts.
  it("says who, for whom, what, when, how long it holds, how it is paid, and what it leaves out", () => {
    for (const words of [
      "Quote BT-7",
      "Bird table, oiled",
      "Reed Lane Works",
      "hello@reed-lane.example",
      "The Mill",
      "3 × table",
      "20 November 2026",
      "20 December 2026",
      "12 working days from your order",
      "Deposit",
      "on order",
      "61.73",
      "2 rounds of changes to the design are included. Each further one costs 45.00 EUR net.",
      "Fixing to the wall",
      "Signature",
    ])
      expect(body).toContain(words);
  });

  it("has every line and sum of the quote, each line under its section", () => {
    const cells = elements.filter(({ name, within }) => name === "td" && within.includes("table"));
    const amounts = cells.map(({ text }) => text);
    for (const { amount, description } of ESTIMATE.quote) {
      expect(amounts).toContain(amount);
      expect(body).toContain(description);
    }
    for (const { section, kind } of ESTIMATE.quote)
      expect(kind !== "line" || section === "Total" || body.includes(section)).toBe(true);
    const sections = elements.filter(({ attributes }) => attributes["scope"] === "rowgroup");
    expect(new Set(sections.map(({ text }) => text)).size).toBe(sections.length);
    expect(sections.length).toBeGreaterThan(2);
  });

  it("shows no amount of the house, and no word of how the price was made", () => {
    const told = [
      ...ESTIMATE.quote.flatMap((line) => [line.amount, line.unitPrice, line.basis]),
      ...TERMS.stages.map(({ amount }) => amount),
      TERMS.revisions?.further ?? "",
    ].join(" ");
    const shown = body.match(/\d+\.\d\d(?!\d)/g) ?? [];
    expect(shown.length).toBeGreaterThan(10);
    expect(shown.filter((amount) => !told.includes(amount))).toEqual([]);
    expect(body).not.toMatch(/overhead|contingency|markup|margin|profit|cost\b|\/h\b|hour/i);
  });

  it("leaves out what nothing says", () => {
    const bare = elementsOf(quotePage({ ...estimated(SMALL), customer: "" }));
    const [text = ""] = textOf(bare, "body");
    expect(textOf(bare, "table")).toHaveLength(1);
    expect(textOf(bare, "h2")).toEqual(["Acceptance"]);
    expect(text).not.toMatch(/undefined|null|NaN|Valid until|Reference|From|For\b/);
  });

  it("takes no text for markup", () => {
    const evil = `<script>alert("x")</script> & 'y' \u0007\uD800`;
    const quote = ESTIMATE.quote.map((line) => ({ ...line, description: evil, basis: evil }));
    const terms = { ...TERMS, maker: [evil, evil], notIncluded: [evil] };
    const named = { ...ESTIMATE, title: evil, customer: evil, reference: evil, pieceName: evil };
    const read = elementsOf(quotePage({ ...named, quote, terms }));
    expect(read.filter(({ name }) => name === "script")).toEqual([]);
    expect(textOf(read, "li")[0]).toContain(`<script>alert("x")</script> & 'y'`);
  });

  it("writes numbers that are read alike anywhere, or with decimal commas", () => {
    expect(quotePage(dear("1234567.50"))).toContain(">1\u202F234\u202F567.50<");
    expect(quotePage(dear("-1234.50"))).toContain(">\u22121234.50<");
    expect(quotePage(dear("98765.00"), DECIMAL_COMMA)).toContain(">98\u202F765,00<");
    expect(quotePage(dear("98765"))).toContain(">98\u202F765<");
    const [commas = ""] = textOf(elementsOf(quotePage(ESTIMATE, DECIMAL_COMMA)), "body");
    expect(commas).not.toMatch(/\d\.\d/);
    expect(commas).toMatch(/3 × table, (about )?\d+,\d\d each/);
  });

  it("says singular and what is not yet priced", () => {
    const [text = ""] = textOf(
      elementsOf(
        quotePage({
          ...ESTIMATE,
          terms: { ...TERMS, revisions: { included: 1, further: null } },
          leadTime: { workingDays: 1, figure: "lead" },
        }),
      ),
      "body",
    );
    expect(text).toContain("1 working day from your order");
    expect(text).toContain("1 round of changes to the design is included. Further ones are quoted");
  });

  it("adds up on the page as in the file", () => {
    const lines = ESTIMATE.quote.filter(({ kind }) => kind === "line");
    const sum = lines.reduce((total, { amount }) => total.plus(amount), new Amount(0));
    const net = elements.find(({ name, text }) => name === "tr" && text.startsWith("Net total"));
    expect(net?.text.endsWith(sum.toFixed(2))).toBe(true);
  });
});
