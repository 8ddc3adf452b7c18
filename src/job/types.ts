import type { Amount } from "../money.ts";
import type { Place, Problem } from "../problem.ts";
import type { Delivery } from "./delivery.ts";
import type { JobTerms, Rules, Setting, SettingName } from "./setting-types.ts";

/** What a person asks for: the checked parts list and the files beside it. */

/** A text file of the job folder or of a table set, as read from disk. */
export interface SourceText {
  /**
   * Path relative to the job folder, with `/`: `drawings/heron.svg`. A table begins with the name
   * of its folder, `price-tables/hardware.csv`, because a job may have a hardware.csv as well.
   */
  readonly name: string;
  readonly text: string;
  /** SHA-256 of the bytes, hex: says later which version an estimate was made from. */
  readonly sha256: string;
  /** What is wrong with single rows or cells as they lay in the file, where it was no plain text. */
  readonly problems?: readonly Problem[];
}

/** How a part may be turned on the sheet: freely, by quarter turns, by half turns, not at all. */
export type Turn = "any" | "quarter" | "half" | "fixed";

/** The outline of a part without a drawing, in mm. */
export type ShapeOutline =
  | {
      readonly kind: "rectangle";
      readonly widthMm: number;
      readonly heightMm: number;
      /** One for all, 0 for sharp corners, or one for each. */
      readonly cornerRadiusMm: number | CornerRadii;
    }
  | { readonly kind: "disc"; readonly diameterMm: number }
  | { readonly kind: "ring"; readonly diameterMm: number; readonly boreMm: number }
  /** Regular, on one of its sides; the diameter is that of the circle through its corners. */
  | { readonly kind: "polygon"; readonly diameterMm: number; readonly sides: number }
  /** Straight, with half circles at the ends of its longer side. */
  | { readonly kind: "slot"; readonly widthMm: number; readonly heightMm: number }
  /** One plate of a crossed pair: a rectangle with a slot that opens at one side. */
  | {
      readonly kind: "half-lap";
      readonly widthMm: number;
      readonly heightMm: number;
      readonly slotWidthMm: number;
      readonly slotDepthMm: number;
      /** From the left side to the middle of the slot. */
      readonly slotAtMm: number;
      readonly slotSide: "top" | "bottom";
    };

/** mm, 0 for a sharp corner. */
export interface CornerRadii {
  readonly topLeft: number;
  readonly topRight: number;
  readonly bottomRight: number;
  readonly bottomLeft: number;
}

/** Round holes, measured from the lower left corner of the shape's box, or about its middle. */
export type HolePattern = { readonly diameterMm: number } & (
  | { readonly kind: "at"; readonly points: readonly Readonly<Record<"xMm" | "yMm", number>>[] }
  /** Four, as far from the sides of the box as said. */
  | { readonly kind: "corners"; readonly insetMm: number }
  | { readonly kind: "centre" }
  /** Evenly on a circle about the middle, the first straight above it. */
  | { readonly kind: "circle"; readonly count: number; readonly circleMm: number }
  /** Rows and columns about the middle. */
  | {
      readonly kind: "grid";
      readonly columns: number;
      readonly rows: number;
      readonly pitchXMm: number;
      readonly pitchYMm: number;
    }
);

export type Shape = ShapeOutline & { readonly holes?: readonly HolePattern[] };

export interface DrawnForm {
  readonly kind: "drawing";
  /** Name of a {@link SourceText} of the job folder. */
  readonly path: string;
  /** Element id or DXF layer, for one part of many; null for the whole drawing. */
  readonly id: string | null;
}

/** What a part looks like. */
export type PartForm = DrawnForm | Shape;

export interface Part {
  /** Unique in the job. */
  readonly name: string;
  /** Copies in each piece commissioned, 1 or more. */
  readonly quantity: number;
  /** Where the quantity was said, when not in its row. */
  readonly quantityPlace?: Place;
  /** As the sheet table spells it. */
  readonly material: string;
  readonly thicknessMm: number;
  readonly form: PartForm;
  readonly turn: Turn;
  /** Whether it may be laid face down. */
  readonly flip: boolean;
  /** Id in the finishes table, or null for bare. */
  readonly finish: string | null;
  /** Copies made on top, for the order or in percent of its copies; null: as the settings say. */
  readonly spare: Spare | null;
  readonly note: string;
  /** Cells of columns that are not known, by header. */
  readonly other?: Readonly<Record<string, string>>;
  /** Its row; `column` is null. */
  readonly place: Place;
}

export interface Spare {
  readonly by: "copies" | "percent";
  readonly number: number;
}

export type Operation = "cut" | "score" | "engrave";

/** "Lines of this class (or stroke colour, id or layer) in a drawing are engraved", or left out. */
export interface LineRule {
  readonly by: "class" | "stroke" | "id" | "layer";
  /** Compared without regard to case. */
  readonly value: string;
  readonly operation: Operation | "leave out";
  readonly place: Place;
}

/** A sheet as the maker measured it, of a material and thickness by its name. */
export interface MeasuredSheet {
  readonly material: string;
  readonly thicknessMm: number;
  readonly measuredMm: number;
  /** Of the item, and of the measure in it. */
  readonly place: Place;
  readonly measuredPlace: Place;
}

/** A size that the job is to be cut from. */
export interface ChosenSheet {
  /** Id in the sheet table. */
  readonly sheet: string;
  readonly place: Place;
}

/** What could be taken instead of a material or a finish, to see what it would cost. */
export interface Alternative {
  readonly by: "material" | "finish";
  /** The material or finish that parts have now. */
  readonly of: string;
  /** Of a material, only of this thickness; null for any. */
  readonly thicknessMm: number | null;
  /** The material or finish instead; `none` for no finish. */
  readonly take: string;
  /** Of the material instead; null for the same. */
  readonly takeThicknessMm: number | null;
  readonly place: Place;
}

/** Whether a layout has the cut lines where they are drawn, or half the kerf outside the part. */
export type CutLines = "as drawn" | "moved by half the kerf";

/** How often the beam runs along an edge that two pieces have in common. */
export type CommonCuts = "twice" | "once";

/** "Somebody stays with the machine", at a rate. */
export interface Attended {
  /** Id in the rates table. */
  readonly rate: string;
  readonly place: Place;
}

/** How often a thing listed beside the parts is needed. */
export type UsePer = "order" | "piece" | "part" | "hole";

/** A row of the job's hardware.csv. */
export interface HardwareUse {
  /** Id in the hardware table. */
  readonly item: string;
  readonly quantity: number;
  /** `part` and `hole` count over all copies of `part`. */
  readonly per: UsePer;
  readonly part: string | null;
  /** With `per: hole`: only round holes of this diameter count; null counts every round hole. */
  readonly holeDiameterMm: number | null;
  /** What each of them takes of something sold by its ml; null for things that are counted. */
  readonly glue: GlueRun | null;
  readonly note: string;
  readonly place: Place;
}

/** A bead of glue, or a film between two faces. */
export type GlueRun =
  | { readonly kind: "bead"; readonly diameterMm: number; readonly lengthMm: number }
  | { readonly kind: "film"; readonly filmMm: number; readonly areaCm2: number };

/** One of the layers between the head of a bolt and its nut. */
export type Clamped =
  | { readonly kind: "part"; readonly part: string }
  | { readonly kind: "length"; readonly mm: number };

/** A row of the job's joints.csv: bolts of one thread through the same layers. */
export interface JointUse {
  /** Unique in the job. */
  readonly name: string;
  readonly thread: string;
  /** As the hardware table has it; empty for bolts of which it says none. */
  readonly head: string;
  /** Its round holes are counted, over all copies. */
  readonly part: string;
  /** Only holes of this diameter; null counts every round hole. */
  readonly holeDiameterMm: number | null;
  readonly through: readonly Clamped[];
  /** Id in the hardware table: a nut, or an insert. */
  readonly nut: string;
  /** Likewise; null for none. */
  readonly washer: string | null;
  /** To each bolt. */
  readonly washers: number;
  readonly note: string;
  readonly place: Place;
}

/** A row of the job's lengths.csv. */
export interface LengthUse {
  readonly name: string;
  /** Id (the section) in the stock-lengths table. */
  readonly stock: string;
  readonly lengthMm: number;
  /** In each piece commissioned. */
  readonly quantity: number;
  readonly finish: string | null;
  readonly note: string;
  readonly place: Place;
}

/** A row of the job's hand-work.csv. */
export interface HandWorkUse {
  /** Id in the tasks table. */
  readonly task: string;
  /** Only the named part, where the task goes by part, area or hole; null for all. */
  readonly part: string | null;
  /** How often, per unit of the task's basis; 1 unless the job says otherwise, 0 leaves it out. */
  readonly quantity: number;
  /** Overrides the table's minutes. */
  readonly minutes: Amount | null;
  readonly note: string;
  readonly place: Place;
}

/** What an offcut looks like. */
export type OffcutForm =
  | DrawnForm
  | { readonly kind: "rectangle"; readonly widthMm: number; readonly heightMm: number };

/** A row of the job's offcuts.csv: what is left over from other work. */
export interface OffcutOnShelf {
  readonly id: string;
  /** As the sheet table spells it. */
  readonly material: string;
  readonly thicknessMm: number;
  readonly form: OffcutForm;
  /** How many there are, 0 or more. */
  readonly quantity: number;
  /** What one is worth to the maker; 0 unless said. */
  readonly price: Amount;
  readonly note: string;
  readonly place: Place;
}

export interface Job {
  /** Folder or file name, for headings where no title is given. */
  readonly name: string;
  readonly title: string;
  readonly customer: string;
  readonly reference: string;
  /** ISO 8601 day the prices hold for, or null: then each table's newest rows hold. */
  readonly date: string | null;
  /** Pieces commissioned, 1 or more. */
  readonly pieces: number;
  readonly piecesPlace: Place;
  /** What one piece is called: `way-marker`. */
  readonly pieceName: string;
  /** Id in the machines table, or null for the table set's own. */
  readonly machine: string | null;
  /** Where the job names its machine, if it does. */
  readonly machinePlace?: Place;
  /** Rate of whoever stays with the machine while it is at work, or null for nobody. */
  readonly attended: Attended | null;
  /** In how many days the machine's work is wanted, or null for when it is usually ready. */
  readonly machineDays: { readonly days: number; readonly place: Place } | null;
  readonly lineRules: readonly LineRule[];
  readonly measured: readonly MeasuredSheet[];
  /** Of a material and thickness of which it names some, only these sizes are taken. */
  readonly sheets: readonly ChosenSheet[];
  readonly alternatives: readonly Alternative[];
  readonly cutLines: CutLines;
  readonly commonCuts: CommonCuts;
  /** Null where the job does not say. */
  readonly commonCutsPlace: Place | null;
  /** Parcels that a carrier takes; null: at the price of the settings. */
  readonly delivery: Delivery | null;
  readonly settings: ReadonlyMap<SettingName, Setting>;
  readonly rules: Rules;
  readonly terms: JobTerms;
  readonly notes: readonly string[];
  readonly parts: readonly Part[];
  readonly hardware: readonly HardwareUse[];
  readonly joints: readonly JointUse[];
  readonly lengths: readonly LengthUse[];
  readonly handWork: readonly HandWorkUse[];
  readonly offcuts: readonly OffcutOnShelf[];
}

export type { Delivery, Placed } from "./delivery.ts";
export * from "./setting-types.ts";
export * from "./table-types.ts";
