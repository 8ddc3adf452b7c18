import type { State } from "./state.ts";

/** Asks for a job to be read; an answer to an older request counts no more. */
export function openJob(state: State, path: string): State {
  const request = state.requests + 1;
  return {
    ...state,
    overlay: null,
    path,
    requests: request,
    opening: { request, path },
    openProblems: [],
  };
}
