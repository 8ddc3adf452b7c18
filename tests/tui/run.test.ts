import { Console } from "node:console";
import { EventEmitter } from "node:events";
import { describe, expect, it } from "vitest";
import { runTui } from "../../src/tui/run.tsx";
import { fakeServices } from "./fixture.ts";
import { soon } from "./steps.ts";
import type { FakeServices } from "./fixture.ts";

// Ink guards the console with Node's own class, which the test runner's console does not carry.
Object.assign(console, { Console });

/** A terminal that keeps what is written to it. */
class Screen extends EventEmitter {
  isTTY = true;
  columns = 80;
  rows = 24;
  written = "";
  write = (chunk: string, done?: () => void): boolean => {
    this.written += chunk;
    done?.();
    return true;
  };
}

class Keyboard extends EventEmitter {
  isTTY = true;
  raw = false;
  waiting: string[] = [];
  setEncoding = (): void => undefined;
  ref = (): void => undefined;
  unref = (): void => undefined;
  setRawMode = (raw: boolean): void => {
    this.raw = raw;
  };
  read = (): string | null => this.waiting.shift() ?? null;
  type(text: string): void {
    this.waiting.push(text);
    this.emit("readable");
  }
}

function start(services: FakeServices, job: string | null = null) {
  const [screen, keyboard] = [new Screen(), new Keyboard()];
  // Only the parts of a terminal that are used.
  // oxlint-disable-next-line typescript/no-unsafe-type-assertion
  const [stdin, stdout] = [keyboard, screen] as unknown as [NodeJS.ReadStream, NodeJS.WriteStream];
  const left = runTui(services, job, { stdin, stdout, environment: {} });
  return { screen, keyboard, left };
}

function signalListeners(): number {
  const names = ["SIGINT", "SIGTERM", "SIGHUP"] as const;
  return names.reduce((sum, name) => sum + process.listenerCount(name), 0);
}

const LEAVE = "\u001B[?2004l\u001B[?25h\u001B[?1049l";

describe("the terminal is taken over and given back", () => {
  it("alternate screen in, and out again last of all, raw mode off", async () => {
    const { screen, keyboard, left } = start(fakeServices());
    expect(screen.written.startsWith("\u001B[?1049h")).toBe(true);
    await soon(() => expect(keyboard.raw).toBe(true));
    keyboard.type("q");
    expect(await left).toEqual({ lastLines: [], signal: null });
    expect(screen.written.endsWith(LEAVE)).toBe(true);
    expect(keyboard.raw).toBe(false);
  });

  it.each(["SIGTERM", "SIGINT"] as const)("also by %s, which it tells the caller", async (name) => {
    const { screen, keyboard, left } = start(fakeServices());
    await soon(() => expect(keyboard.raw).toBe(true));
    process.emit(name, name);
    expect((await left).signal).toBe(name);
    expect(screen.written.endsWith(LEAVE)).toBe(true);
  });

  it("also when drawing fails", async () => {
    const broken = fakeServices({
      findJobs: () => {
        throw new Error("a fault of ours");
      },
    });
    const { screen, left } = start(broken);
    await expect(left).rejects.toThrow("a fault of ours");
    expect(screen.written.endsWith(LEAVE)).toBe(true);
  });

  it("leaves no listener behind", async () => {
    const before = [signalListeners(), process.listenerCount("uncaughtExceptionMonitor")];
    const { screen, keyboard, left } = start(fakeServices());
    await soon(() => expect(keyboard.raw).toBe(true));
    keyboard.type("q");
    await left;
    expect([signalListeners(), process.listenerCount("uncaughtExceptionMonitor")]).toEqual(before);
    expect(screen.listenerCount("resize")).toBe(0);
  });
});

describe("what was scrolled away", () => {
  it("is never erased, even when the window shrinks below the frame", async () => {
    const { screen, keyboard, left } = start(fakeServices());
    await soon(() => expect(keyboard.raw).toBe(true));
    screen.rows = 12;
    screen.emit("resize");
    await soon(() => expect(screen.written).toContain("it has 80 x 12"));
    screen.rows = 24;
    screen.emit("resize");
    keyboard.type("q");
    await left;
    expect(screen.written).not.toContain("\u001B[3J");
  });
});
