import { unzipSync, strFromU8 } from "fflate";
import { describe, expect, it } from "vitest";
import { costingWorkbook } from "../../src/exports/costing-workbook.ts";
import { FigureSheet, recompute } from "../../src/figure.ts";
import { Amount, roundMoney } from "../../src/money.ts";
import { figureOf, recordOf } from "../../src/pricing/figure-record.ts";
import { inFile } from "../../src/problem.ts";
import type { Estimate } from "../../src/estimate-data.ts";
import { estimated, SMALL } from "../helpers/job.ts";
import {
  HAS_LIBRE_OFFICE,
  OFFICE_TIMEOUT_MS,
  recalculated,
  WHERE_THERE,
} from "../helpers/libre-office.ts";

const ESTIMATE = estimated(SMALL);

function xmlOf(bytes: Uint8Array, name: string): string {
  return strFromU8(unzipSync(bytes)[name] ?? new Uint8Array());
}

/** With one given figure changed and every derived one left as it was, as a stale file would have it. */
function withGiven(estimate: Estimate, id: string, value: string): Estimate {
  const figures = estimate.figures.map((figure) =>
    figure.id === id ? { ...figure, value } : figure,
  );
  return { ...estimate, figures };
}

describe("costing.xlsx", () => {
  const bytes = costingWorkbook(ESTIMATE);
  const figures = xmlOf(bytes, "xl/worksheets/sheet2.xml");

  it("has given figures as numbers and derived ones as formulas", () => {
    const cells = [...figures.matchAll(/<c r="C(\d+)"[^>]*>(<f>[^<]+<\/f>)?<v>([^<]+)<\/v>/g)];
    expect(cells).toHaveLength(ESTIMATE.figures.length);
    for (const [index, { origin, value }] of ESTIMATE.figures.entries()) {
      const [, row, formula, written] = cells[index] ?? [];
      expect([row, formula === undefined, written]).toEqual([
        String(index + 2),
        origin.kind === "given",
        String(Number(value)),
      ]);
    }
  });

  it("is the same byte for byte, with a day that is no day of writing", () => {
    expect(costingWorkbook(estimated(SMALL))).toEqual(bytes);
    // Local file header (PKWARE APPNOTE 4.3.7): time in bytes 10-11, day in 12-13; 2000-01-01 12:00.
    const view = new DataView(bytes.buffer, bytes.byteOffset);
    expect([view.getUint16(10, true), view.getUint16(12, true)]).toEqual([
      12 << 11,
      (20 << 9) | (1 << 5) | 1,
    ]);
  });

  it("keeps a text that begins like a formula a text, also when it is edited", () => {
    const named = costingWorkbook({
      ...ESTIMATE,
      quote: ESTIMATE.quote.map((line) => ({ ...line, description: "=1+1" })),
    });
    const styles = [...xmlOf(named, "xl/styles.xml").matchAll(/<xf [^>]*xfId[^>]*>/g)];
    const quoted = styles.flatMap(([xf], index) => (xf.includes("quotePrefix") ? [index] : []));
    const cells = [
      ...xmlOf(named, "xl/worksheets/sheet1.xml").matchAll(
        /<c r="C\d+" s="(\d+)" t="inlineStr"><is><t[^>]*>=1\+1</g,
      ),
    ];
    expect(cells.length).toBe(ESTIMATE.quote.filter(({ kind }) => kind === "line").length);
    for (const [, style] of cells) expect(quoted).toContain(Number(style));
  });
});

describe.skipIf(!HAS_LIBRE_OFFICE)(`costing.xlsx in LibreOffice${WHERE_THERE}`, () => {
  it(
    "comes to our total, and with a changed rate to that which recompute says",
    async () => {
      const changes = [
        ["rule.overhead", "31"],
        ["rule.tax", "7.25"],
        ["hardware.m5-bolt.price", "99.9"],
        ["delivery.cost", "48.15"],
      ] as const;
      const books = [ESTIMATE, ...changes.map(([id, value]) => withGiven(ESTIMATE, id, value))];
      const opened = await recalculated(books.map(costingWorkbook));
      const wanted = [
        new Map(),
        ...changes.map(([id, value]) => new Map([[id, new Amount(value)]])),
      ];
      const totals = new Set<string>();
      for (const [index, changed] of wanted.entries()) {
        const values = recompute(ESTIMATE.figures.map(figureOf), changed);
        const rows = opened[index]?.["Figures"] ?? [];
        expect(rows).toHaveLength(values.size + 1);
        for (const [row, [id, value]] of [...values].entries()) {
          const [name, , shown] = rows[row + 1] ?? [];
          expect(name).toBe(id);
          expect(Number(shown)).toBeCloseTo(value.toNumber(), 9);
        }
        const total = roundMoney(values.get("quote.total") ?? new Amount(NaN), ESTIMATE.currency);
        const last = opened[index]?.["Quote"]?.at(-1) ?? [];
        expect([last[2], Number(last[6])]).toEqual(["Total with tax", total.toNumber()]);
        totals.add(total.toString());
      }
      expect(totals.size).toBe(changes.length + 1);
    },
    OFFICE_TIMEOUT_MS,
  );

  it(
    "has the parts of a sum that is too long for one cell",
    async () => {
      const sheet = new FigureSheet();
      const source = { kind: "cell", place: inFile("by-hand.csv"), cited: null } as const;
      // Two of each, so that the summands do not follow each other.
      const ids = Array.from({ length: 450 }, (_, index) => {
        sheet.given(`cost-${index}`, "cost", "currency", index + 0.25, source);
        return sheet.derived(`twice-${index}`, "twice", "currency", "sum", [
          `cost-${index}`,
          `cost-${index}`,
        ]);
      });
      sheet.derived("all", "all of it", "currency", "sum", ids);
      sheet.derived("most", "the largest", "currency", "at least", ids);
      const figures = sheet.figures().map(recordOf);
      const [book] = await recalculated([
        costingWorkbook({ ...ESTIMATE, figures, quote: [], shopping: [] }),
      ]);
      const rows = book?.["Figures"] ?? [];
      // 2 x (449 x 450 / 2 + 450 x 0.25), and 2 x 449.25.
      expect(rows.slice(901, 903).map(([id, , value]) => [id, Number(value)])).toEqual([
        ["all", 202_275],
        ["most", 898.5],
      ]);
      expect(rows.slice(903).map(([, label]) => label)).toEqual(
        Array.from({ length: 6 }, () => "part of a long sum"),
      );
    },
    OFFICE_TIMEOUT_MS,
  );
});
