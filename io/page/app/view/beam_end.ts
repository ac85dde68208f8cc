import { Vector3 } from "three";

// What is drawn where a beam that is looked along ends: its disc to scale, and a cross at the contact.

export interface BeamLook {
  from: Vector3;
  to: Vector3; // the optical centre
  end: Vector3; // on the axis: where the disc is drawn
  radius: number; // of the beam there, mm
  contact: Vector3 | null;
  words: string;
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
