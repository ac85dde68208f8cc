import { Box3, Vector3 } from "three";
import type { Viewport } from "./viewport";

// Dimensions in the straight views, as on a drawing: the part's size, and for each station how far
// it stands from the part's nearest sides; in an elevation how high it stands over its floor.

export interface SizedStation {
  at: Vector3;
  floor: number; // z of its floor, less the origin
}

interface Line {
  from: Vector3; // measured points
  to: Vector3;
  offset: [number, number]; // pixels that the dimension line stands off
  text: string;
}

const svgName = "http://www.w3.org/2000/svg";

export class Sizes {
  private box = new Box3();
  private stations: readonly SizedStation[] = [];
  private isShown = false;

  constructor(
    private readonly svg: SVGSVGElement,
    private readonly viewport: Viewport,
    private readonly lengthText: (mm: number) => string,
  ) {
    viewport.onDrawn(() => this.draw());
  }

  show(part: Box3, stations: readonly SizedStation[], isShown: boolean): void {
    this.box = part;
    this.stations = stations;
    this.isShown = isShown;
  }

  private draw(): void {
    const isOn = this.isShown && this.viewport.view !== "free" && !this.box.isEmpty();
    this.svg.replaceChildren();
    if (!isOn) return;
    const lines = this.viewport.view === "top" ? this.planLines() : this.elevationLines();
    for (const line of lines) this.drawLine(line);
  }

  private line(from: Vector3, to: Vector3, offset: [number, number]): Line {
    return { from, to, offset, text: this.lengthText(from.distanceTo(to)) };
  }

  private planLines(): Line[] {
    const { min, max } = this.box;
    const p = (x: number, y: number) => new Vector3(x, y, max.z);
    const lines = [
      this.line(p(min.x, min.y), p(max.x, min.y), [0, 26]),
      this.line(p(min.x, min.y), p(min.x, max.y), [-26, 0]),
    ];
    for (const { at } of this.stations) {
      const x = nearer(at.x, min.x, max.x);
      const y = nearer(at.y, min.y, max.y);
      if (x !== null) lines.push(this.line(p(x, at.y), p(at.x, at.y), [0, 0]));
      if (y !== null) lines.push(this.line(p(at.x, y), p(at.x, at.y), [0, 0]));
    }
    return lines;
  }

  private elevationLines(): Line[] {
    const { min, max } = this.box;
    const isAlongX = this.viewport.view === "front" || this.viewport.view === "back";
    const p = (u: number, z: number) =>
      isAlongX ? new Vector3(u, min.y, z) : new Vector3(min.x, u, z);
    const [low, high] = isAlongX ? [min.x, max.x] : [min.y, max.y];
    const lines = [
      this.line(p(low, max.z), p(high, max.z), [0, -30]),
      this.line(p(high, min.z), p(high, max.z), [26, 0]),
    ];
    for (const { at, floor } of this.stations) {
      const u = isAlongX ? at.x : at.y;
      lines.push(this.line(p(u, floor), p(u, at.z), [-34, 0]));
    }
    return lines;
  }

  private drawLine({ from, to, offset, text }: Line): void {
    const a = this.viewport.toScreen(from);
    const b = this.viewport.toScreen(to);
    if (!a || !b) return;
    const [dx, dy] = [b.x - a.x, b.y - a.y];
    const length = Math.hypot(dx, dy);
    if (length < 26) return;
    const [x1, y1, x2, y2] = [a.x + offset[0], a.y + offset[1], b.x + offset[0], b.y + offset[1]];
    const [tx, ty] = [(-dy / length) * 5, (dx / length) * 5];
    const far = Math.hypot(...offset) > 0;
    const d =
      `M${x1} ${y1}L${x2} ${y2}M${x1 - tx} ${y1 - ty}L${x1 + tx} ${y1 + ty}` +
      `M${x2 - tx} ${y2 - ty}L${x2 + tx} ${y2 + ty}` +
      (far ? `M${a.x} ${a.y}L${x1} ${y1}M${b.x} ${b.y}L${x2} ${y2}` : "");
    const path = document.createElementNS(svgName, "path");
    path.setAttribute("d", d);
    const label = document.createElementNS(svgName, "text");
    label.setAttribute("x", String((x1 + x2) / 2));
    label.setAttribute("y", String((y1 + y2) / 2 + 4));
    label.textContent = text;
    this.svg.append(path, label);
  }
}

/** The nearer end of an extent, null inside it. */
function nearer(value: number, low: number, high: number): number | null {
  if (value >= low && value <= high) return null;
  return value < low ? low : high;
}
