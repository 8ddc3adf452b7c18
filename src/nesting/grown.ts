import { poseRing } from "../geometry/pose.ts";
import type { Point } from "../geometry/types.ts";
import type { Convex } from "./convex.ts";
import { convexSum, mirroredThroughOrigin } from "./convex-sum.ts";
import type { Turned } from "./turns.ts";

/** A piece as it is turned, grown on all sides: made when it is first asked for. */
export class GrownParts {
  /** How many convex parts it has. */
  readonly count: number;
  readonly #drawn: readonly Convex[];
  readonly #turned: Pick<Turned, "turnDeg" | "mirrored">;
  readonly #byMm: number;
  #parts: readonly Float64Array[] | null = null;
  #reversed: readonly Float64Array[] | null = null;

  constructor(
    drawn: readonly Convex[],
    turned: Pick<Turned, "turnDeg" | "mirrored">,
    byMm: number,
  ) {
    this.count = drawn.length;
    this.#drawn = drawn;
    this.#turned = turned;
    this.#byMm = byMm;
  }

  /** Each as a sum comes, see {@link convexSum}. */
  get parts(): readonly Float64Array[] {
    return (this.#parts ??= this.#grow());
  }

  /** The same parts turned through the origin, as the moving side of a no-fit region. */
  get reversed(): readonly Float64Array[] {
    return (this.#reversed ??= this.parts.map(mirroredThroughOrigin));
  }

  #grow(): readonly Float64Array[] {
    const { turnDeg, mirrored } = this.#turned;
    const circle = flat(roundAbout(this.#byMm));
    const pose = { mirrored, turnDeg, xMm: 0, yMm: 0 };
    return this.#drawn.map((part) => convexSum(flat(poseRing(pose, part)), circle));
  }
}

/** Sides of the polygon that stands for a circle: 1 part in 50 too far out at its corners. */
const ROUND_SIDES = 16;

/** A polygon around a circle about 0,0, some of its sides along the axes, so that straight gaps are exact. */
function roundAbout(radius: number): Convex {
  if (radius === 0) return [{ x: 0, y: 0 }];
  const half = Math.PI / ROUND_SIDES;
  const reach = radius / Math.cos(half);
  const eighth: Point[] = [{ x: radius, y: radius * Math.tan(half) }];
  eighth.push({ x: reach * Math.cos(3 * half), y: reach * Math.sin(3 * half) });
  const quarter = [...eighth, ...eighth.toReversed().map(({ x, y }) => ({ x: y, y: x }))];
  const halfRound = [...quarter, ...quarter.map(({ x, y }) => ({ x: -y, y: x }))];
  return [...halfRound, ...halfRound.map(({ x, y }) => ({ x: -x, y: -y }))];
}

function flat(points: readonly Point[]): Float64Array {
  const numbers = new Float64Array(2 * points.length);
  for (const [index, { x, y }] of points.entries()) {
    numbers[2 * index] = x;
    numbers[2 * index + 1] = y;
  }
  return numbers;
}
