import { useApp, useInput, useStdout } from "ink";
import { useEffect, useMemo, useReducer, useRef } from "react";
import type { Dispatch, ReactNode } from "react";
import type { Estimate } from "../estimate-data.ts";
import type { Checked } from "../problem.ts";
import { splitInput } from "./input.ts";
import { reduce } from "./reduce.ts";
import type { Action } from "./reduce.ts";
import { Screen } from "./screen.tsx";
import type { RunningEstimate, Services } from "./services.ts";
import { initialState } from "./state.ts";
import type { Size, State } from "./state.ts";
import { themeFor } from "./theme.ts";
import type { Theme } from "./theme.ts";
import { frameLines } from "./views/frame.ts";

export interface AppProps {
  readonly services: Services;
  /** Path of the job to open, or null to choose one. */
  readonly initialJob: string | null;
  readonly theme?: Theme;
  /** Whether the terminal shows more than ASCII. */
  readonly unicode?: boolean;
  /** Told of every state, for what is said after leaving. */
  readonly onState?: (state: State) => void;
}

/** Keeps the state, carries out what it asks for, and draws it. */
export function App({
  services,
  initialJob,
  theme = themeFor({}),
  unicode = true,
  onState,
}: AppProps): ReactNode {
  const { exit } = useApp();
  const { stdout } = useStdout();
  const [state, dispatch] = useReducer(reduce, null, () =>
    initialState(sizeOf(stdout), initialJob),
  );
  useKeys(dispatch);
  useSize(stdout, dispatch);
  useOpening(services, state, dispatch);
  useEstimate(services, state, dispatch);
  useExport(services, state, dispatch);
  useSaving(services, state, dispatch);
  useEffect(() => {
    onState?.(state);
  }, [state, onState]);
  useEffect(() => {
    if (state.left) exit();
  }, [state.left, exit]);
  const lines = useMemo(() => frameLines(state), [state]);
  return <Screen lines={lines} theme={theme} unicode={unicode} />;
}

function useKeys(dispatch: Dispatch<Action>): void {
  const pasting = useRef<string | null>(null);
  useInput((input, key) => {
    const split = splitInput(pasting.current, input, key);
    pasting.current = split.pasting;
    for (const event of split.events) dispatch(event);
  });
}

function useSize(stdout: NodeJS.WriteStream, dispatch: Dispatch<Action>): void {
  useEffect(() => {
    const resized = (): void => dispatch({ kind: "resized", size: sizeOf(stdout) });
    stdout.on("resize", resized);
    return () => {
      stdout.off("resize", resized);
    };
  }, [stdout, dispatch]);
}

/** 80 x 24 where the terminal does not say. */
function sizeOf({ columns, rows }: NodeJS.WriteStream): Size {
  return { columns: columns || 80, rows: rows || 24 };
}

function useOpening(
  services: Services,
  { opening, jobs }: State,
  dispatch: Dispatch<Action>,
): void {
  const request = opening?.request ?? null;
  const path = opening?.path ?? null;
  useEffect(() => {
    if (request === null || path === null) return;
    services.openJob(path).then(
      (result) => dispatch({ kind: "opened", request, result }),
      (error: unknown) => dispatch({ kind: "opened", request, result: fault(path, error) }),
    );
  }, [services, request, path, dispatch]);
  useEffect(() => {
    if (jobs !== null) return;
    services.findJobs().then(
      (found) => dispatch({ kind: "jobs found", jobs: found }),
      () => dispatch({ kind: "jobs found", jobs: [] }),
    );
  }, [services, jobs, dispatch]);
}

/** One estimate at a time: a newer run cancels the older, and the reducer ignores what is late. */
function useEstimate(services: Services, state: State, dispatch: Dispatch<Action>): void {
  const { run, asked, running } = state;
  const current = useRef<RunningEstimate | null>(null);
  useEffect(() => {
    if (asked === null) return;
    const began = Date.now();
    const estimate = services.startEstimate(asked, (progress) =>
      dispatch({ kind: "progress", run, progress }),
    );
    current.current = estimate;
    const clock = setInterval(() => {
      dispatch({ kind: "elapsed", run, seconds: Math.floor((Date.now() - began) / 1000) });
    }, 1000);
    const settle = (result: Checked<Estimate>): void => {
      clearInterval(clock);
      dispatch({ kind: "estimated", run, result });
    };
    estimate.result.then(settle, (error: unknown) => settle(fault("estimate", error)));
    return () => {
      clearInterval(clock);
      estimate.cancel();
    };
  }, [services, run, asked, dispatch]);
  const finishing = running?.finishing ?? false;
  useEffect(() => {
    if (finishing) current.current?.finishEarly();
  }, [finishing]);
}

function useExport(services: Services, { exporting }: State, dispatch: Dispatch<Action>): void {
  useEffect(() => {
    if (!exporting) return;
    services.exportQuote(exporting.estimate).then(
      (outcome) => dispatch({ kind: "exported", outcome }),
      (error: unknown) => {
        const { problems } = fault("export", error);
        dispatch({ kind: "exported", outcome: { kind: "refused", problems } });
      },
    );
  }, [services, exporting, dispatch]);
}

function useSaving(services: Services, { saving, job }: State, dispatch: Dispatch<Action>): void {
  useEffect(() => {
    if (!saving || !job) return;
    services.saveChanges(job, saving).then(
      (outcome) => dispatch({ kind: "saved", outcome }),
      (error: unknown) => {
        const { problems } = fault("save", error);
        dispatch({ kind: "saved", outcome: { files: [], problems } });
      },
    );
  }, [services, saving, job, dispatch]);
}

/** A service that failed where it should have reported: shown like any problem. */
function fault(file: string, error: unknown): Checked<never> {
  const found = error instanceof Error ? error.message : String(error);
  return {
    value: null,
    problems: [
      {
        code: "fault",
        severity: "error",
        file,
        line: null,
        column: null,
        found,
        expected: "that this works",
        mend: "Report this as a fault of the program",
      },
    ],
  };
}
