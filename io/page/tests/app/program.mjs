// The program, run as a user runs it.

import { execFileSync, spawnSync } from "node:child_process";
import { cpSync, mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";

export class Program {
  constructor(binary, work) {
    this.binary = binary;
    this.work = work;
    this.sights = new Map(); // a scene's file is not changed once it is written
  }

  /** A fresh folder with a scene in it: its own files, and its JSON as `change` leaves it. */
  sceneCopy(name, folder, change = (scene) => scene) {
    const to = join(this.work, name);
    rmSync(to, { recursive: true, force: true });
    mkdirSync(to, { recursive: true });
    cpSync(folder, to, { recursive: true });
    const file = join(to, "scene.json");
    const scene = change(JSON.parse(readFileSync(file, "utf8")));
    writeFileSync(file, JSON.stringify(scene));
    return file;
  }

  /** The folder with plan.json and page.html. Exit 1 is a plan too: something is blocked. */
  plan(scene, name) {
    const to = join(this.work, name);
    const { status, stderr } = spawnSync(this.binary, ["plan", scene, "-o", to], {
      encoding: "utf8",
    });
    if (status !== 0 && status !== 1) throw new Error(`plan ${scene}: exit ${status}\n${stderr}`);
    return {
      folder: to,
      page: join(to, "page.html"),
      plan: JSON.parse(readFileSync(join(to, "plan.json"), "utf8")),
    };
  }

  sight(scene, at) {
    const key = `${scene} ${at.join()}`;
    if (!this.sights.has(key)) this.sights.set(key, this.askSight(scene, at));
    return this.sights.get(key);
  }

  askSight(scene, at) {
    return JSON.parse(this.runSight(scene, at, "--json"));
  }

  /** What a user reads who asks for it in the terminal; its lines joined to one. */
  sightText(scene, at) {
    return this.runSight(scene, at).replace(/\s+/g, " ");
  }

  runSight(scene, at, ...more) {
    const options = { encoding: "utf8", maxBuffer: 1 << 28 };
    const given = ["sight", scene, `--at=${at.join()}`, ...more];
    const { status, stdout, stderr } = spawnSync(this.binary, given, options);
    if (status !== 0 && status !== 1) throw new Error(`sight ${at}: exit ${status}\n${stderr}`);
    return stdout;
  }

  /** Throws with the program's words where it does not accept the scene. */
  check(scene) {
    return execFileSync(this.binary, ["check", scene], { encoding: "utf8" });
  }
}
