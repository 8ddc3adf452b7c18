/**
 * Threads run built files.
 *
 * @param self address of a module in one of the folders of `src`, or of what was built from it.
 * @param path of the thread's module, `tui/worker`: built beside it, or in dist when it runs from its source.
 */
export function builtModule(self: string, path: string): URL {
  return new URL(`${self.endsWith(".ts") ? "../../dist" : ".."}/${path}.js`, self);
}
