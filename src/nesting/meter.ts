/**
 * Counts what has been done, in no-fit polygons made and what takes as long: about a thousandth of a
 * millisecond each. The same on every machine, so that what it decides is the same too.
 */
export class Meter {
  #spent = 0;

  get spent(): number {
    return this.#spent;
  }

  spend(polygons: number): void {
    this.#spent += polygons;
  }
}
