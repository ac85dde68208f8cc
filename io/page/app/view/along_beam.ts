import { Vector3 } from "three";
import { centreOf, middleTouch } from "../model/anchors";
import { step, withUnit } from "../model/numbers";
import { missOf, stationAt, type Outcome } from "../model/outcome";
import { contactOf } from "../model/reasons";
import type { BeamLook } from "./beam_end";
import type { CellView } from "./cell_view";

// A look along a feature's beam from the instrument: the beam's disc to scale where it ends, or
// where it is broken.

/** Of the selected feature; null where none is, or where nothing is known of it yet. */
export function alongBeam(view: CellView, outcome: Outcome): BeamLook | null {
  const { store } = view;
  const { feature } = store.state;
  const status = feature === null ? undefined : outcome.statuses[feature];
  if (feature === null || !status) return null;
  const name = store.plan.features[feature]?.name ?? "";
  if (status.verdict !== "blocked") {
    const touches = view.touchesOf(outcome, feature) ?? [];
    const touch = middleTouch(touches);
    const taken = touch ? status.shared?.[touches.indexOf(touch)] : null;
    const station = outcome.stations.find((one) => one.id === (taken ?? status.station));
    if (!station) return null;
    const to = touch ? view.placed(centreOf(touch)) : view.endOf(feature);
    return lookTo(view, view.placed(station.at), to, null, station.name, name);
  }
  const miss = missOf(store, outcome, feature);
  if (!miss) return null;
  const contact = contactOf(miss);
  const touch =
    miss.touches.find((one) => contact && one.causes?.includes(contact)) ?? miss.touches[0];
  const to = touch ? view.placed(centreOf(touch, contact)) : view.endOf(feature);
  const look = lookTo(
    view,
    view.placed(miss.at),
    to,
    contact?.distance ?? null,
    stationAt(outcome, miss)?.name ?? "the station",
    name,
  );
  if (!contact?.at) return look;
  const where =
    contact.distance === null
      ? ""
      : `, ${withUnit(store.units, contact.distance, step.place)} from the instrument`;
  const words = `${look.words} The cross is the contact with ${contact.body ?? "a body"}${where}.`;
  return { ...look, contact: view.placed(contact.at), words };
}

/** `distance`: along the beam, scene units, where it is broken; null: it is not. */
function lookTo(
  view: CellView,
  from: Vector3,
  to: Vector3,
  distance: number | null,
  station: string,
  feature: string,
): BeamLook {
  const { units, scene } = view.store;
  const along = Math.min(from.distanceTo(to), distance === null ? Infinity : distance * units.mm);
  const end = from.clone().addScaledVector(to.clone().sub(from).normalize(), along);
  const { beam_diameter, beam_growth_rad } = scene.instrument;
  const radius = (beam_diameter + beam_growth_rad * along) / 2;
  const width = withUnit(units, (2 * radius) / units.mm, step.margin);
  const words = `From ${station} to ${feature}. The ring is the beam, ${width} wide there.`;
  return { from, to, end, radius, contact: null, words };
}
