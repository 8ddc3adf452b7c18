import { describe, expect, it } from "vitest";
import { valueOf } from "../../src/formulas.ts";
import { Amount } from "../../src/money.ts";
import { amounts, quoteOf, rows } from "./quoting.ts";

/** The rules of price and quote against what others have published, and against hand work. */

describe("profit", () => {
  // Trade facts M1 and M2 (maths teaching site), M3 (worked values page).
  it.each([
    ["M1", "80", { margin_percent: "20" }, "100.00", "25", "20"],
    ["M2", "20", { margin_percent: "80" }, "100.00", "400", "80"],
    ["M3", "40", { markup_percent: "50" }, "60.00", "50", "33.33"],
  ])("%s: cost %s with %j is %s", (_, cost, settings, net, markup, margin) => {
    const made = quoteOf({ costs: { Materials: cost }, settings });
    expect(amounts(made, "subtotal").map(String)).toEqual([new Amount(net).toString()]);
    const short = (id: string): string => new Amount(made.value(id)).toDecimalPlaces(2).toString();
    expect([short("price.markup"), short("price.margin")]).toEqual([markup, margin]);
  });

  // M4 (worked values page): 29.99 with a markup of 25 % is 37.49.
  it("M4: rounds 37.4875 to 37.49", () => {
    const made = quoteOf({ costs: { Materials: "29.99" }, settings: { markup_percent: "25" } });
    expect(rows(made)[0]).toEqual(["Work 0", "37.49"]);
  });

  // M5 (costume makers forum): materials 63.75 and 9.5 h at 8.00 come to 139.75.
  it("M5: adds 63.75 of materials and 76.00 of work to 139.75", () => {
    const made = quoteOf({ costs: { Materials: "63.75", "Making and assembly": "76.00" } });
    expect(amounts(made, "subtotal").map(String)).toEqual(["139.75"]);
  });

  // Trade facts 7, the table of margins and markups: markup = g / (1 - g).
  it.each([
    ["10", "11.11"],
    ["15", "17.65"],
    ["20", "25"],
    ["25", "33.33"],
    ["30", "42.86"],
    ["40", "66.67"],
    ["50", "100"],
    ["60", "150"],
  ])("of %s %% of the price is a markup of %s %%", (margin, markup) => {
    const made = quoteOf({ costs: { Materials: "6000" }, settings: { margin_percent: margin } });
    const got = new Amount(made.value("price.markup")).toDecimalPlaces(2);
    expect(Math.abs(got.minus(markup).toNumber())).toBeLessThanOrEqual(0.01);
  });

  // The same place: a markup of 30 % gives only a margin of 23.08 %.
  it("of 30 % of the cost is 23.08 % of the price", () => {
    const made = quoteOf({ costs: { Materials: "1000" }, settings: { markup_percent: "30" } });
    expect(new Amount(made.value("price.margin")).toDecimalPlaces(2).toString()).toBe("23.08");
  });
});

describe("markups of kinds of cost", () => {
  // Woodworkers association article: 25 % on materials; the others by hand: cost in all 1.15 x 1.1 =
  // 1.265 of direct cost; 100 x 1.265 x 1.25, 40 x 1.265 x 1.1, 200 x 1.265 x 1.5, 20 x 1.265 x 1.
  it("raise each kind by its own, the others by that of all", () => {
    const made = quoteOf({
      costs: {
        Materials: "100",
        "Fixings and bought-in parts": "40",
        "Making and assembly": "200",
        Delivery: "20",
      },
      settings: {
        overhead_percent: "15",
        contingency_percent: "10",
        markup_percent: "0",
        markup_materials_percent: "25",
        markup_bought_in_percent: "10",
        markup_labour_percent: "50",
      },
    });
    expect(rows(made).slice(0, 5)).toEqual([
      ["Work 0", "158.13"],
      ["Work 1", "55.66"],
      ["Work 2", "379.50"],
      ["Work 3", "25.30"],
      ["Net total", "618.59"],
    ]);
    expect(made.value("price.exact")).toBe("618.585");
  });

  it("are the markup of all where they are the same", () => {
    const costs = { Materials: "33.33", Cutting: "77.77", "Making and assembly": "10.01" };
    const one = { overhead_percent: "12.5", markup_percent: "30" };
    const kinds = ["materials", "machine", "labour"].map((kind) => [
      `markup_${kind}_percent`,
      "30",
    ]);
    const [all, each] = [one, { ...one, ...Object.fromEntries(kinds) }].map((settings) =>
      quoteOf({ costs, settings }),
    );
    expect(rows(each!)).toEqual(rows(all!));
  });
});

describe("tax", () => {
  // Derived (trade facts 7): by line 3 x 0.07 = 0.21, on the total 0.198, so 0.20.
  it("is worked out once, on the total: three lines of 0.33 at 20 % bear 0.20", () => {
    const costs = { Materials: "0.33", Cutting: "0.33", Finishing: "0.33" };
    const made = quoteOf({ costs, settings: { tax_percent: "20" } });
    expect(rows(made).slice(3)).toEqual([
      ["Net total", "0.99"],
      ["Tax 20 %", "0.20"],
      ["Total with tax", "1.19"],
    ]);
  });

  // UK VAT Notice 700 17.5 (example from memory): 86.76p may be charged as 87p, to the nearest 1p.
  it("of 86.76 p is 87 p, by the step of the currency", () => {
    const tax = valueOf("rounded to step", [new Amount("0.8676"), new Amount("0.01")]);
    expect(tax.toString()).toBe("0.87");
    const settings = { tax_percent: "20" };
    const made = quoteOf({ costs: { Materials: "4.34" }, settings, currency: "GBP" });
    expect(amounts(made, "tax").map(String)).toEqual(["0.87"]);
  });

  // EN 16931 (from memory): per rate on what is taxed at it, allowances included, 2 decimals.
  it("goes by rate where headings have one of their own, on the net with discount", () => {
    const made = quoteOf({
      costs: { Materials: "100", "Making and assembly": "200", Delivery: "60" },
      settings: { tax_percent: "20", discount: "36" },
      taxes: ["reduced,Delivery;Materials,5,2026-01-01,test"],
    });
    // 36 off in proportion: 20 off the 200, 16 off the 160. By hand.
    expect(
      made.lines.slice(3).map(({ description, amount, basis }) => [description, amount, basis]),
    ).toEqual([
      ["Discount", "-36.00", ""],
      ["Net total", "324.00", "job: 1 x piece, 324.00 each"],
      ["Tax 20 %", "36.00", "on 180.00"],
      ["Tax 5 %", "7.20", "on 144.00, reduced"],
      ["Total with tax", "367.20", "in EUR"],
    ]);
  });

  it("is one where all headings that are used have the same", () => {
    const made = quoteOf({
      costs: { Delivery: "60" },
      settings: { tax_percent: "20" },
      taxes: ["free,delivery,0,2026-01-01,test"],
    });
    expect(rows(made).slice(1)).toEqual([
      ["Net total", "60.00"],
      ["Tax 0 %", "0.00"],
      ["Total with tax", "60.00"],
    ]);
  });
});

describe("rush", () => {
  // B2 (service price page): 5 to 0 days on $25 are 25, 30, 35, 40, 45, 50.
  it.each([
    ["5", "25"],
    ["4", "30"],
    ["3", "35"],
    ["2", "40"],
    ["1", "45"],
    ["0", "50"],
    ["9", "25"],
  ])("B2: in %s days instead of 5, at 20 %% a day, makes 25 to %s", (wanted_days, net) => {
    const rules = { usual_days: "5", rush_percent_per_day: "20", wanted_days };
    const made = quoteOf({ costs: { Cutting: "25" }, settings: rules, currency: "USD" });
    expect(amounts(made, "subtotal").map(String)).toEqual([net]);
  });

  it("says by how many days, or only that it is sooner", () => {
    const perDay = { usual_days: "5", rush_percent_per_day: "10", wanted_days: "1" };
    const texts = [perDay, { rush_percent: "12.5" }].map((settings) => {
      const [, rush] = quoteOf({ costs: { Cutting: "25" }, settings }).lines;
      return `${rush?.description}, ${rush?.basis}: ${rush?.amount}`;
    });
    expect(texts).toEqual([
      "Rush 40 %, in 1 day instead of 5: 10.00",
      "Rush 12.5 %, sooner than usual: 3.13",
    ]);
  });
});

describe("the minimum of an order", () => {
  it.each([
    ["40", ["Minimum order", "10.00"], "50"],
    ["50", ["Net total", "50.00"], "50"],
    ["70", ["Net total", "70.00"], "70"],
  ])("raises %s by a line of its own", (cost, second, net) => {
    const made = quoteOf({ costs: { Materials: cost }, settings: { minimum_order: "50" } });
    expect(rows(made)[1]).toEqual(second);
    expect(amounts(made, "subtotal").map(String)).toEqual([net]);
  });
});

describe("discount", () => {
  it("comes after the true price, with its reason, and what it costs is known", () => {
    const made = quoteOf({
      costs: { Materials: "80" },
      settings: { markup_percent: "25", tax_percent: "20", rush_percent: "10" },
      job: ["price:", "  discount_percent: 15", "terms:", "  discount_reason: For the school"],
    });
    expect(
      made.lines.map(({ description, amount, basis }) => [description, amount, basis]).slice(0, 5),
    ).toEqual([
      ["Work 0", "100.00", ""],
      ["Rush 10 %", "10.00", "sooner than usual"],
      ["Discount 15 %", "-16.50", "For the school"],
      ["Net total", "93.50", "job: 1 x piece, 93.50 each"],
      ["Tax 20 %", "18.70", "on the net total"],
    ]);
    const ids = ["price.true", "price.true-profit", "price.given-away", "price.profit"];
    expect(ids.map(made.value)).toEqual(["110", "30", "16.5", "13.5"]);
    expect(made.problems).toEqual([]);
  });

  // Woodworkers association article: 1 -> 0, 2 -> 5, 4 -> 15, 7 or more -> 30 %; here on all units.
  it.each([
    [1, "100"],
    [2, "95"],
    [4, "85"],
    [7, "70"],
    [12, "70"],
  ])("for repetition leaves of 100 for %i pieces %s", (pieces, net) => {
    const made = quoteOf({
      costs: { Materials: "100" },
      settings: {
        repeat_discount_percent: "5",
        repeat_discount_most_percent: "30",
        markup_percent: "0",
      },
      job: [`pieces: ${pieces}`],
    });
    expect(amounts(made, "subtotal").map(String)).toEqual([net]);
  });

  it("is measured by the rounded true price", () => {
    const made = quoteOf({
      costs: { Materials: "101" },
      settings: { round_total_to: "5", discount: "20" },
    });
    expect(["price.true", "quote.net", "price.given-away"].map(made.value)).toEqual([
      "105",
      "85",
      "20",
    ]);
  });

  it.each([
    ["30", "discount-below-cost", "warning"],
    ["100", "discount-too-large", "error"],
    ["130", "discount-too-large", "error"],
  ])("of %s on a true price of 100 that cost 80 is spoken of", (discount, code, severity) => {
    const settings = { markup_percent: "25", discount };
    const { problems } = quoteOf({ costs: { Materials: "80" }, settings });
    expect(problems.map((one) => [one.code, one.severity])).toEqual([[code, severity]]);
  });
});

describe("stages of payment", () => {
  // Derived (trade facts 7): 50 % of 123.45 is 61.73 and 61.72.
  it("are 61.73 and 61.72 of 123.45", () => {
    const made = quoteOf({ costs: { Materials: "123.45" }, settings: { deposit_percent: "50" } });
    expect(made.terms.stages).toEqual([
      {
        name: "Deposit",
        due: "on order",
        percent: "50",
        amount: "61.73",
        figure: "stage.1.amount",
      },
      {
        name: "Balance",
        due: "on completion",
        percent: "50",
        amount: "61.72",
        figure: "stage.2.amount",
      },
    ]);
    expect(made.lines.at(-1)?.basis).toBe(
      "in EUR; Deposit 50 % on order: 61.73; Balance 50 % on completion: 61.72",
    );
  });

  // Trade magazine: retainer 10 %, 40 %, 25 %, and 25 % at completion. Amounts by hand: up to 10, 50,
  // 75 % of 999.99 are 100.00, 500.00 (499.995), 749.99 (749.9925).
  it("are a retainer of 10, then 40, 25 and 25 %", () => {
    const job = [10, 40, 25, 25].flatMap((percent, index) => [
      `    - name: Stage ${index + 1}`,
      `      percent: ${percent}`,
      "      due: as agreed",
    ]);
    const made = quoteOf({
      costs: { Materials: "999.99" },
      job: ["terms:", "  stages:", ...job],
    });
    const parts = made.terms.stages.map(({ amount }) => amount);
    expect(parts).toEqual(["100.00", "400.00", "249.99", "250.00"]);
  });

  it("are one where all is due on order, and none where nothing is said", () => {
    const costs = { Materials: "10" };
    const all = quoteOf({ costs, settings: { deposit_percent: "100" } }).terms.stages;
    expect(all.map(({ name, amount }) => [name, amount])).toEqual([["Payment", "10.00"]]);
    expect(quoteOf({ costs, settings: { deposit_percent: "0" } }).terms.stages).toEqual([]);
  });
});

describe("words", () => {
  it("name the last day in calendar days, from the job's date", () => {
    const settings = { valid_days: "30" };
    const costs = { Materials: "10" };
    const untils = ["2026-11-26", "2028-02-01", "2026-12-31"].map(
      (date) => quoteOf({ costs, settings, job: [`date: ${date}`] }).terms.validUntil,
    );
    expect(untils).toEqual(["2026-12-26", "2028-03-02", "2027-01-30"]);
    expect(quoteOf({ costs, settings }).terms.validUntil).toBeNull();
  });

  it("are the maker's, then the job's", () => {
    const made = quoteOf({
      costs: { Materials: "10" },
      settings: {
        maker: "Reed Bench",
        contact: '"Mill Lane 4; reed@example.org"',
        not_included: "Permits; Fixing to walls",
        revisions_included: "2",
        revision_price: "35",
      },
      job: ["terms:", "  not_included:", "    - Foundations"],
    });
    expect(made.terms).toEqual({
      maker: ["Reed Bench", "Mill Lane 4", "reed@example.org"],
      validUntil: null,
      stages: [],
      revisions: { included: 2, further: "35.00" },
      notIncluded: ["Permits", "Fixing to walls", "Foundations"],
    });
  });
});
