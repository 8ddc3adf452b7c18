import { inColumn } from "../problem.ts";
import type { Place } from "../problem.ts";
import { lengthUpTo, notNegativeUpTo, positiveUpTo, text, wholeUpTo } from "./cells.ts";
import type { CellKind } from "./cells.ts";
import { MOST } from "./limits.ts";
import type { YamlEntry, YamlReader } from "./yaml-map.ts";

/** `delivery:` of job.yaml: parcels that a carrier takes by weight and size. */

/** A number of the job file, and where it stands. */
export interface Placed {
  readonly value: number;
  readonly place: Place;
}

export interface Delivery {
  /** Id in the deliveries table. */
  readonly tariff: string;
  /** Where the tariff is named. */
  readonly place: Place;
  /** How many alike; 1 unless said. */
  readonly parcels: Placed;
  /** As many as are packed together, where that says how many parcels there are. */
  readonly piecesIn: Placed | null;
  /** Of one parcel as it is packed, mm; null where it was not said. */
  readonly sizeMm: {
    readonly length: Placed;
    readonly width: Placed;
    readonly height: Placed;
  } | null;
  /** Box and padding of one parcel; null for nothing. */
  readonly packingKg: Placed | null;
  /** Of one parcel with its packing; null: worked out from what is in it. */
  readonly weightKg: Placed | null;
}

const SIDES = ["length", "width", "height"] as const;
const KEYS = ["tariff", "parcels", "pieces_in_parcel", ...SIDES, "packing_kg", "weight_kg"];

const kg = positiveUpTo(MOST.kg);
const kgOrNone = notNegativeUpTo(MOST.kg);
const side = lengthUpTo(MOST.sizeMm);
const TARIFF = { ...text, expected: "a tariff of deliveries.csv" };
const TARIFF_MEND = "Name the tariff; a plain price goes under price: as delivery";
const SIDE_MEND = "Write length, width and height of one parcel, or none of them";

const ONE_OF_THEM = {
  code: "one-of-them",
  expected: "parcels or pieces_in_parcel, not both",
  read: (): null => null,
  mend: () => "Remove one of the two",
};

export function readDelivery(yaml: YamlReader, entry: YamlEntry | undefined): Delivery | null {
  if (entry === undefined) return null;
  const fields = yaml.fields(entry, KEYS);
  // Something else than fields, which has been said.
  if (fields.size === 0 && entry.node !== null) return null;
  const field = (name: string): YamlEntry =>
    fields.get(name) ?? { place: inColumn(entry.place, `delivery.${name}`), node: null };
  const placed = (name: string, kind: CellKind<number>): Placed | null => {
    const value = yaml.value(fields.get(name), kind);
    return value === null ? null : { value, place: field(name).place };
  };
  const needed = (name: string): Placed | null => {
    const value = yaml.needed(field(name), side, SIDE_MEND);
    return value === null ? null : { value, place: field(name).place };
  };
  const tariff = yaml.needed(field("tariff"), TARIFF, TARIFF_MEND);
  const sized = SIDES.some((name) => fields.has(name));
  const [length, width, height] = sized ? SIDES.map(needed) : [];
  const parcels = placed("parcels", wholeUpTo(MOST.each)) ?? { value: 1, place: entry.place };
  const piecesIn = placed("pieces_in_parcel", wholeUpTo(MOST.each));
  if (fields.has("parcels") && piecesIn !== null) yaml.value(fields.get("parcels"), ONE_OF_THEM);
  const [packingKg, weightKg] = [placed("packing_kg", kgOrNone), placed("weight_kg", kg)];
  if (tariff === null) return null;
  const sizeMm = length && width && height ? { length, width, height } : null;
  return { tariff, place: field("tariff").place, parcels, piecesIn, sizeMm, packingKg, weightKg };
}
