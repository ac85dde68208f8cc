import assert from "node:assert/strict";
import { test } from "node:test";

import { anchorOf, centreOf, middleTouch } from "../../app/model/anchors.ts";
import { floorUnder, isInside, keepOutAt, placeForNew, zoneAt } from "../../app/model/floor.ts";
import { fragmentText } from "../../app/model/fragment.ts";
import { drawn, madeScene } from "./made.mjs";

const bent = [
  [0, 0],
  [4, 0],
  [4, 4],
  [3, 4],
  [3, 1],
  [0, 1],
]; // an L

test("inside and outside of a bent polygon, its border counted in", () => {
  for (const [x, y] of [
    [1, 0.5],
    [3.5, 3.9],
    [0, 0],
    [4, 2],
    [3, 2],
    [1.7, 1],
  ]) {
    assert.equal(isInside(bent, x, y), true, `${x}, ${y}`);
  }
  for (const [x, y] of [
    [1, 2],
    [2.99, 1.01],
    [-0.01, 0.5],
    [4.01, 4],
    [3.5, 4.01],
  ]) {
    assert.equal(isInside(bent, x, y), false, `${x}, ${y}`);
  }
});

test("inside agrees with the sum of angles for random polygons", () => {
  for (let seed = 1; seed <= 100; seed += 1) {
    const draw = drawn(seed);
    const count = 3 + Math.floor(draw() * 6);
    const corners = Array.from({ length: count }, (_, i) => {
      const angle = (2 * Math.PI * (i + 0.8 * draw())) / count;
      return [(1 + 4 * draw()) * Math.cos(angle), (1 + 4 * draw()) * Math.sin(angle)];
    });
    const [x, y] = [10 * draw() - 5, 10 * draw() - 5];
    const turn = corners.reduce((sum, a, i) => {
      const b = corners[(i + 1) % corners.length];
      const [u, v] = [
        [a[0] - x, a[1] - y],
        [b[0] - x, b[1] - y],
      ];
      return sum + Math.atan2(u[0] * v[1] - u[1] * v[0], u[0] * v[0] + u[1] * v[1]);
    }, 0);
    assert.equal(isInside(corners, x, y), Math.abs(turn) > Math.PI, `seed ${seed}`);
  }
});

const upright = [0, 0, 1];
const zone = (name, floor, polygon, heights = [1300]) => ({
  name,
  floor,
  polygon,
  holes: [],
  heights,
  instrument_ups: [upright],
});
const low = zone("low", 0, [
  [0, 0],
  [1000, 0],
  [1000, 1000],
  [0, 1000],
]);
const high = zone(
  "high",
  500,
  [
    [5000, 0],
    [6000, 0],
    [6000, 1000],
    [5000, 1000],
  ],
  [1500, 2000],
);

test("a stand is on its zone's floor, between zones on the nearest one's", () => {
  const scene = madeScene({ zones: [low, high] });
  assert.equal(zoneAt(scene, [5500, 500, 0]).name, "high");
  assert.equal(zoneAt(scene, [3000, 500, 0]), null);
  assert.equal(floorUnder(scene, [5500, 500, 2000]), 500);
  assert.equal(floorUnder(scene, [2900, 500, 2000]), 0);
  assert.equal(floorUnder(scene, [3100, 500, 2000]), 500);
  assert.equal(floorUnder(madeScene(), [0, 0, 0]), 0);
});

test("a new station stands in the zone farthest from all others", () => {
  const scene = madeScene({ zones: [low, high] });
  const placed = (...asked) => placeForNew(...asked).at;
  assert.deepEqual(placed(scene, [[400, 400, 1300]], [9, 9, 9]), [5500, 500, 2000]);
  assert.deepEqual(placed(scene, [[5500, 400, 2000]], [9, 9, 9]), [500, 500, 1300]);
  assert.deepEqual(placed(madeScene(), [], [9, 9, 9]), [9, 9, 9]);
});

test("a new station stands as its zone says first", () => {
  const hanging = { ...high, instrument_ups: [[0, 0, -1], upright] };
  const scene = madeScene({ zones: [low, hanging] });
  assert.deepEqual(placeForNew(scene, [[400, 400, 1300]], [9, 9, 9]).up, [0, 0, -1]);
  assert.deepEqual(placeForNew(madeScene(), [], [9, 9, 9]).up, upright);
});

test("over a hole no zone has a place, and a keep-out is named; borders count", () => {
  const pit = [
    [200, 200],
    [400, 200],
    [400, 400],
    [200, 400],
  ];
  const scene = madeScene({
    zones: [{ ...low, holes: [pit] }],
    keep_outs: [{ name: "door", polygon: pit }],
  });
  for (const place of [
    [300, 300, 1300],
    [200, 300, -5],
  ]) {
    assert.equal(zoneAt(scene, place), null);
    assert.equal(keepOutAt(scene, place), "door");
  }
  assert.equal(zoneAt(scene, [199, 300, 1300]).name, "low");
  assert.equal(keepOutAt(scene, [199, 300, 1300]), null);
});

test("the fragment holds every station in scene units, then the scene's other fixed places", () => {
  const scene = madeScene({
    units: "m",
    mm_per_unit: 1000,
    zones: [zone("S2", 0, low.polygon)],
    fixed_stations: [
      { name: "S1", at: [1, 1, 1], keep: true, cost: 1, instrument_ups: [upright] },
      { name: "door", at: [3000, -2500, 1400], keep: true, cost: 1, instrument_ups: [upright] },
      {
        name: "gate",
        at: [0, 0, 1400],
        keep: false,
        cost: 3,
        instrument_ups: [[1, 0, 0], upright],
      },
    ],
  });
  const stations = [
    { id: 0, name: "S1", at: [0.5, 0.1, 1.3], up: upright, planned: null },
    { id: 1, name: "S2", at: [5, 0, 1.3], up: [0, 0.6, 0.8], planned: null },
  ];
  const fragment = JSON.parse(fragmentText(scene, { name: "m", mm: 1000 }, stations));
  assert.deepEqual(fragment.stations.fixed, [
    { name: "S1", at: [0.5, 0.1, 1.3], keep: true },
    { name: "S2 station", at: [5, 0, 1.3], keep: true, instrument_up: [0, 0.6, 0.8] }, // zones and fixed places share names
    { name: "door", at: [3, -2.5, 1.4] },
    {
      name: "gate",
      at: [0, 0, 1.4],
      cost: 3,
      instrument_ups: [
        [1, 0, 0],
        [0, 0, 1],
      ],
    },
  ]);
});

test("a feature's mark is on what is measured", () => {
  assert.deepEqual(anchorOf({ type: "point", at: [1, 2, 3] }), [1, 2, 3]);
  assert.deepEqual(
    anchorOf({
      type: "plane",
      points: [
        [0, 0, 5],
        [4, 0, 5],
        [2, 3, 5],
      ],
    }),
    [2, 1, 5],
  );
  assert.deepEqual(
    anchorOf({ type: "line", from: [0, 0, 5], to: [10, 4, 5], normal: [0, 0, 1] }),
    [5, 2, 5],
  );
  assert.deepEqual(
    anchorOf({
      type: "surface",
      touches: [
        { at: [0, 0, 1], normal: [0, 0, 1] },
        { at: [2, 4, 1], normal: [0, 0, 1] },
      ],
    }),
    [1, 2, 1],
  );
  assert.deepEqual(
    anchorOf({ type: "sphere", centre: [1, 1, 1], radius: 2, toward: [0, 0, 1] }),
    [1, 1, 3],
  );
});

test("a beam is drawn to a touch that is reached, the one nearest to the middle of these", () => {
  const touch = (x, verdict) => ({ at: [x, 0, 0], verdict, margin: 1 });
  const touches = [
    touch(0, "full-target"),
    touch(4, "full-target"),
    touch(5, "blocked"),
    touch(9, "full-target"),
  ];
  assert.deepEqual(middleTouch(touches).at, [4, 0, 0]);
  assert.equal(middleTouch([touch(1, "blocked")]), null);
});

test("a ball seated on a hole's rim is looked at in its own centre, not a radius above the hole", () => {
  // A 38.1 mm ball on a 36 mm hole: its centre is 6.2 mm above the rim, not 19.05.
  const height = Math.sqrt(19.05 ** 2 - 18 ** 2);
  const touch = { at: [0, 0, 50], normal: [0, 0, 1], verdict: "full-target", margin: 1 };
  const seated = { ...touch, optical_centre: [0, 0, 50 + height] };
  assert.deepEqual(centreOf(seated), [0, 0, 50 + height]);
  const cause = { target: "mirror", optical_centre: [0, 0, 53] };
  assert.deepEqual(centreOf(seated, cause), [0, 0, 53]);
  assert.deepEqual(centreOf(touch), [0, 0, 50]); // an older plan does not tell
});
