import type { PlanData, Verdict } from "../data/wire";
import { isMoved, type Station } from "./setup";
import { sharersOf, type Change, type Changes, type Status } from "./status";

// The list of features: filtered and sorted.

export interface Row {
  index: number; // of the feature
  name: string;
  required: boolean;
  isAligned: boolean; // it holds the part's frame, and is taken first
  verdict: Verdict;
  change: Change;
  station: string; // "" where blocked
  target: string;
  margin: number | null; // scene units
  uncertainty: number | null; // expanded, as planned; null where the plan's no longer holds
}

export type SortKey =
  "scene" | "state" | "feature" | "station" | "target" | "margin" | "uncertainty";

export interface Listing {
  words: string; // every word must be in feature, station or target
  states: readonly Verdict[]; // empty: all
  station: string; // "" : all
  isChangedOnly: boolean;
  sort: SortKey;
  isDescending: boolean;
}

export const wholeList: Listing = {
  words: "",
  states: [],
  station: "",
  isChangedOnly: false,
  sort: "scene",
  isDescending: false,
};

/** The plan's uncertainty of a feature still holds where the same station, unmoved, takes it with
 * the same target. (The network's share changes a little with every moved station: the list says
 * that its figures are those of the plan.) */
export function rowsOf(
  plan: PlanData,
  stations: readonly Station[],
  now: readonly Status[],
  changes: Changes,
): Row[] {
  return plan.features.map((feature, index) => {
    const status = now[index];
    const ids = status?.shared ? sharersOf(status.shared) : [status?.station];
    const from = stations.filter((s) => ids.includes(s.id));
    const planned = feature.stations ?? [feature.station];
    const holds =
      from.length > 0 &&
      !from.some(isMoved) &&
      from.length === planned.length &&
      from.every((station) => planned.includes(station.name)) &&
      status?.target === feature.target;
    return {
      index,
      name: feature.name,
      required: feature.required,
      isAligned: plan.alignment?.features.includes(feature.name) ?? false,
      verdict: status?.verdict ?? "blocked",
      change: changes.of[index] ?? "same",
      station: from.map((station) => station.name).join(" + "),
      target: status?.target ?? "",
      margin: status?.margin ?? null,
      uncertainty: holds ? (feature.uncertainty?.expanded ?? null) : null,
    };
  });
}

function isListed(row: Row, listing: Listing): boolean {
  if (listing.states.length > 0 && !listing.states.includes(row.verdict)) return false;
  if (listing.station !== "" && !row.station.split(" + ").includes(listing.station)) return false;
  if (listing.isChangedOnly && row.change === "same") return false;
  const text = `${row.name} ${row.station} ${row.target}`.toLowerCase();
  const words = listing.words
    .toLowerCase()
    .split(/\s+/)
    .filter((word) => word !== "");
  return words.every((word) => text.includes(word));
}

const order: Record<Verdict, number> = { blocked: 0, "offset-stylus": 1, "full-target": 2 };

/** Names with numbers in them by their value: "pad-2" before "pad-10". */
const byName = new Intl.Collator("en", { numeric: true });

function compare(a: Row, b: Row, key: SortKey): number {
  switch (key) {
    case "scene":
      return Number(b.isAligned) - Number(a.isAligned);
    case "state":
      return order[a.verdict] - order[b.verdict];
    case "feature":
      return byName.compare(a.name, b.name);
    case "station":
      return byName.compare(a.station, b.station);
    case "target":
      return byName.compare(a.target, b.target);
    case "margin":
      return (a.margin ?? 0) - (b.margin ?? 0);
    case "uncertainty":
      return (a.uncertainty ?? 0) - (b.uncertainty ?? 0);
  }
}

/** Whether a row has nothing to be sorted by; such rows come last in either direction. */
function isVoid(row: Row, key: SortKey): boolean {
  if (key === "station" || key === "target") return row[key] === "";
  if (key === "margin" || key === "uncertainty") return row[key] === null;
  return false;
}

/** Equal ones stay in the scene's order; without a wish those of the alignment come first. */
export function listed(rows: readonly Row[], listing: Listing): Row[] {
  const { sort, isDescending } = listing;
  return rows
    .filter((row) => isListed(row, listing))
    .sort((a, b) => {
      const voids = Number(isVoid(a, sort)) - Number(isVoid(b, sort));
      if (voids !== 0) return voids;
      return (isDescending ? -1 : 1) * compare(a, b, sort) || a.index - b.index;
    });
}

/** For a spreadsheet: tab-separated, with the unit in the head. */
export function tableText(rows: readonly Row[], units: string): string {
  const head = [
    "feature",
    "state",
    "station",
    "target",
    `margin (${units})`,
    `U as planned (${units})`,
  ];
  const lines = rows.map((row) =>
    [row.name, row.verdict, row.station, row.target, row.margin ?? "", row.uncertainty ?? ""].join(
      "\t",
    ),
  );
  return [head.join("\t"), ...lines].join("\n") + "\n";
}
