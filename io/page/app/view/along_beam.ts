import { Vector3 } from "three";
import { centreOf, middleTouch } from "../model/anchors";
import { step, withUnit } from "../model/numbers";
import { missOf, stationAt, type Picture } from "../model/picture";
import { contactOf } from "../model/reasons";
import type { CellView } from "./cell_view";

// A look along a feature's beam from the instrument: the beam's disc to scale where it ends, or
// where it is broken.

export interface BeamLook {
  from: Vector3;
  to: Vector3; // the optical centre
  end: Vector3; // on the axis: where the disc is drawn
  radius: number; // of the beam there, mm
  contact: Vector3 | null;
  words: string;
}

/** Of the selected feature; null where none is, or where nothing is known of it yet. */
export function alongBeam(view: CellView, picture: Picture): BeamLook | null {
  const { store } = view;
  const { feature } = store.state;
  const standing = feature === null ? undefined : picture.standings[feature];
  if (feature === null || !standing) return null;
  const name = store.plan.features[feature]?.name ?? "";
  if (standing.verdict !== "blocked") {
    const station = picture.stations.find((one) => one.id === standing.station);
    const touch = middleTouch(view.touchesOf(picture, feature) ?? []);
    if (!station) return null;
    const to = touch ? view.placed(centreOf(touch)) : view.endOf(feature);
    return lookTo(view, view.placed(station.at), to, null, station.name, name);
  }
  const miss = missOf(store, picture, feature);
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
    stationAt(picture, miss.at)?.name ?? "the station",
    name,
  );
  if (!contact?.at) return look;
  const where =
    contact.distance === null
      ? ""
      : ` ${withUnit(store.units, contact.distance, step.place)} from the instrument`;
  const words = `${look.words} ${contact.body ?? "A body"} stands in the way${where}, at the cross.`;
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
  const words = `From ${station} to ${feature}: the ring is the beam, ${width} wide there.`;
  return { from, to, end, radius, contact: null, words };
}

/** Two directions square to the beam. */
function across({ from, to }: BeamLook): [Vector3, Vector3] {
  const back = from.clone().sub(to).normalize();
  const right = new Vector3(0, 0, 1).cross(back);
  if (right.length() < 1e-6) right.set(1, 0, 0);
  right.normalize();
  return [right, back.clone().cross(right)];
}

/** The beam's disc, as ends of short lines. */
export function ringOf(look: BeamLook): Vector3[] {
  const [right, up] = across(look);
  const corner = (i: number) => {
    const angle = (i * Math.PI) / 24;
    const p = look.end.clone().addScaledVector(right, look.radius * Math.cos(angle));
    return p.addScaledVector(up, look.radius * Math.sin(angle));
  };
  return Array.from({ length: 48 }, (_, i) => [corner(i), corner(i + 1)]).flat();
}

export function crossAt(look: BeamLook, at: Vector3): Vector3[] {
  const [right, up] = across(look);
  const arm = look.radius * 0.7;
  return [1, -1].flatMap((sign) => {
    const d = right.clone().addScaledVector(up, sign).multiplyScalar(arm);
    return [at.clone().sub(d), at.clone().add(d)];
  });
}
