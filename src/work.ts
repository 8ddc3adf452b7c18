/**
 * Long work, without clocks or callbacks: a generator that yields how far it is and its best
 * complete result so far, and takes back whether to finish early.
 */

export interface Progress<Best> {
  /** What is being done, in words a person understands: `nesting acrylic-cast 3 mm`. */
  readonly stage: string;
  /** Finished units of this stage; never more than `of`, never falling within a stage. */
  readonly done: number;
  readonly of: number;
  /** Always complete and judged, or null while there is none. */
  readonly best: Best | null;
}

/** Send `true` into it to have it finish with the best it has; anything else lets it go on. */
export type Work<Result, Best = Result> = Generator<Progress<Best>, Result, boolean | undefined>;

/**
 * The same work with its best result seen as something else. A best is converted when it is first
 * looked at, and only once: most shells never look.
 */
export function* withBest<Result, From, To>(
  work: Work<Result, From>,
  convert: (best: From) => To | null,
): Work<Result, To> {
  let seen: { readonly from: From; readonly to: To | null } | null = null;
  const converted = (from: From): To | null => {
    if (seen?.from !== from) seen = { from, to: convert(from) };
    return seen.to;
  };
  let turn = work.next();
  while (turn.done !== true) {
    const { best, stage, done, of } = turn.value;
    const progress = {
      stage,
      done,
      of,
      get best() {
        return best === null ? null : converted(best);
      },
    };
    turn = work.next(yield progress);
  }
  return turn.value;
}
