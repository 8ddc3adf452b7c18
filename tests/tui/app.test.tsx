import { cleanup, render } from "ink-testing-library";
import { afterEach, describe, expect, it, vi } from "vitest";
import { App } from "../../src/tui/app.tsx";
import type { State } from "../../src/tui/state.ts";
import { themeFor } from "../../src/tui/theme.ts";
import { fakeServices, fixtureEstimate, problem } from "./fixture.ts";
import { soon } from "./steps.ts";
import type { FakeServices } from "./fixture.ts";

// Ink's colours are decided when it is loaded: without this the check for NO_COLOR could not fail.
vi.hoisted(() => {
  process.env["FORCE_COLOR"] = "1";
});

// oxlint-disable-next-line no-control-regex -- escape codes are what is looked for
const COLOUR = /\u001B\[(?:3[0-8]|4[0-8]|9[0-7]|10[0-7])/;
// oxlint-disable-next-line no-control-regex -- escape codes are what is taken out
const CODES = /\u001B\[[0-9;]*m/g;

afterEach(cleanup);

interface Opened {
  readonly services: FakeServices;
  readonly frame: () => string;
  readonly raw: () => string;
  readonly type: (text: string) => void;
  readonly resize: (columns: number, rows: number) => void;
  readonly state: () => State | null;
}

function open(
  services: FakeServices,
  job: string | null = "jobs/marsh-test",
  environment = {},
): Opened {
  let last: State | null = null;
  const { lastFrame, stdin, stdout } = render(
    <App
      services={services}
      initialJob={job}
      theme={themeFor(environment)}
      onState={(state) => (last = state)}
    />,
  );
  return {
    services,
    raw: () => lastFrame() ?? "",
    frame: () => (lastFrame() ?? "").replaceAll(CODES, ""),
    type: (text) => stdin.write(text),
    resize: (columns, rows) => {
      Object.defineProperty(stdout, "columns", { value: columns, configurable: true });
      Object.defineProperty(stdout, "rows", { value: rows, configurable: true });
      stdout.emit("resize");
    },
    state: () => last,
  };
}

/** Open and estimated. */
async function ready(services = fakeServices(), environment = {}): Promise<Opened> {
  const app = open(services, "jobs/marsh-test", environment);
  await soon(() => expect(services.started.length).toBe(1));
  services.started[0]?.answer({ value: fixtureEstimate(), problems: [] });
  await soon(() => expect(app.frame()).toContain("ready"));
  return app;
}

describe("a job", () => {
  it("is opened, estimated and shown", async () => {
    const app = await ready();
    expect(app.frame()).toContain("Way-markers for the marsh");
    expect(app.frame()).toContain("86.40 EUR");
  });

  it("is chosen from those found when none was named", async () => {
    const app = open(fakeServices(), null);
    await soon(() => expect(app.frame()).toContain("demo-data/other"));
    app.type("j");
    app.type("\r");
    await soon(() => expect(app.state()?.job?.path).toBe("demo-data/other"));
  });

  it("that can not be read shows every problem", async () => {
    const problems = [problem("a", "error", 3, "3,2"), problem("b", "error", 9, "thick")];
    const app = open(fakeServices({ openJob: async () => ({ value: null, problems }) }));
    await soon(() => expect(app.frame()).toContain('line 9, thickness: read "thick"'));
    expect(app.frame()).toContain('line 3, thickness: read "3,2"');
    expect(app.frame()).toContain("What next");
    expect(app.services.started).toEqual([]);
  });

  it("whose services break is a problem on screen, not the end", async () => {
    const app = open(fakeServices({ openJob: () => Promise.reject(new Error("disk on fire")) }));
    await soon(() => expect(app.frame()).toContain("disk on fire"));
  });
});

describe("a changed quantity", () => {
  it("starts an estimate with it, drops the older one, ignores what comes late", async () => {
    const app = await ready();
    app.type("++");
    await soon(() => expect(app.services.started.at(-1)?.input.quantities).toEqual({ wing: 5 }));
    app.type("j\r7\r");
    await soon(() =>
      expect(app.services.started.at(-1)?.input.quantities).toEqual({ wing: 5, cap: 7 }),
    );
    const [late, last] = app.services.started.slice(-2);
    expect(late?.cancelled).toBe(true);
    expect(last?.cancelled).toBe(false);
    late?.answer({ value: { ...fixtureEstimate(), title: "TOO LATE" }, problems: [] });
    last?.answer({ value: fixtureEstimate({ wing: 5, cap: 7 }), problems: [] });
    await soon(() => expect(app.frame()).toContain("ready"));
    expect(app.frame()).not.toContain("TOO LATE");
    // 5 wings, 7 caps, 2 bases, for 4 pieces.
    expect(app.frame()).toMatch(/wing .* \*5 +20 /);
    expect(app.frame()).toMatch(/cap .* \*7 +28 /);
  });

  it("is asked to finish early by ctrl-c", async () => {
    const app = await ready();
    app.type("+");
    await soon(() => expect(app.services.started.length).toBe(2));
    app.type("\u0003");
    await soon(() => expect(app.services.started[1]?.finished).toBe(true));
    await soon(() => expect(app.frame()).toContain("ending with the first result"));
  });

  it("shows the best so far", async () => {
    const app = await ready();
    app.type("+");
    await soon(() => expect(app.services.started.length).toBe(2));
    const best = { ...fixtureEstimate({ wing: 4 }), title: "Better" };
    app.services.started[1]?.onProgress({ stage: "nesting", done: 1, of: 4, best });
    await soon(() => expect(app.frame()).toContain("working, best so far"));
    expect(app.frame()).toContain("Better");
    expect(app.frame()).toContain("nesting, 1 of 4");
  });
});

describe("the quote", () => {
  it("is exported as it stands on screen", async () => {
    const app = await ready();
    app.type("e");
    await soon(() => expect(app.frame()).toContain("Wrote 2 files to out/marsh-test: quote.csv"));
    expect(app.services.exports).toEqual([fixtureEstimate()]);
  });

  it("tells where a figure comes from", async () => {
    const app = await ready();
    app.type("5jw");
    await soon(() => expect(app.frame()).toContain("▾ Cutting, direct cost"));
    expect(app.frame()).toContain("▸ wing, copies in all");
    expect(app.frame()).toContain("= sum of the 3 figures below");
    app.type("\u001B");
    await soon(() => expect(app.frame()).toContain("━━ 5 Price"));
  });

  it("with changed numbers says that the job's files keep the old ones, and saves them on s", async () => {
    const app = await ready();
    app.type("+");
    await soon(() => expect(app.services.started.length).toBe(2));
    app.services.started[1]?.answer({ value: fixtureEstimate({ wing: 4 }), problems: [] });
    await soon(() => expect(app.frame()).toContain("not in the job's files yet: wing 3 to 4"));
    app.type("e");
    await soon(() =>
      expect(app.frame()).toContain(
        "keep the old numbers, s saves yours. 2 files in out/marsh-test",
      ),
    );
    app.type("s");
    await soon(() => expect(app.frame()).toContain("Saved in parts.csv: wing 3 to 4"));
    expect(app.services.saves).toEqual([{ quantities: { wing: 4 }, pieces: null }]);
    // The job is read again and estimated as its files have it now.
    await soon(() => expect(app.services.started.length).toBe(3));
    expect(app.services.started[2]?.input.quantities).toEqual({});
  });
});

describe("the terminal", () => {
  it.each([
    [80, 24],
    [140, 45],
  ])("frames fit %d x %d after a change of size", async (columns, rows) => {
    const app = await ready();
    app.type("3");
    app.resize(columns, rows);
    await soon(() => expect(app.frame()).toContain("sheet 1 of 2"));
    await soon(() => expect(app.frame().split("\n").length).toBe(rows - 1));
    for (const line of app.frame().split("\n")) expect(line.length).toBeLessThanOrEqual(columns);
  });

  it("a burst in one read is as many keys, a paste is text", async () => {
    const app = await ready();
    app.type("jj");
    await soon(() => expect(app.frame()).toContain("▸ base"));
    app.type("o");
    app.type("\u001B[200~jobs/q\u001B[201~");
    await soon(() => expect(app.frame()).toContain("Job folder or parts list: jobs/q"));
    expect(app.state()?.left).toBe(false);
  });

  it("gets no colour code with NO_COLOR, and some without", async () => {
    const bare = await ready(fakeServices(), { NO_COLOR: "1" });
    bare.type("3");
    await soon(() => expect(bare.frame()).toContain("sheet 1 of 2"));
    expect(bare.raw()).not.toMatch(COLOUR);
    cleanup();
    const coloured = await ready();
    expect(coloured.raw()).toMatch(COLOUR);
  });
});
