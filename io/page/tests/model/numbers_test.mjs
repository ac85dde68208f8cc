import assert from "node:assert/strict";
import { test } from "node:test";

import {
  decimalsFor,
  fixedText,
  lengthText,
  listOf,
  placeText,
  plainText,
  roundTo,
  step,
  typedLength,
} from "../../app/model/numbers.ts";

const mm = { name: "mm", mm: 1 };
const metres = { name: "m", mm: 1000 };
const inches = { name: "in", mm: 25.4 };

test("a millimetre step needs no decimals in mm, three in m, two in inches", () => {
  assert.equal(decimalsFor(mm, step.place), 0);
  assert.equal(decimalsFor(metres, step.place), 3);
  assert.equal(decimalsFor(inches, step.place), 2);
  assert.equal(decimalsFor(metres, step.uncertainty), 6);
});

test("numbers are never minus zero, and what is not finite is a dash", () => {
  assert.equal(fixedText(-0.04, 1), "0.0");
  assert.equal(fixedText(-0.06, 1), "-0.1");
  assert.equal(fixedText(Infinity, 1), "–");
  assert.equal(lengthText(mm, null, step.margin), "–");
});

test("lengths are written in the scene's units", () => {
  assert.equal(lengthText(mm, 1834.26, step.place), "1834");
  assert.equal(lengthText(metres, 1.83426, step.place), "1.834");
  assert.equal(placeText(metres, [-1.5, 2.8, 2]), "-1.500, 2.800, 2.000");
});

test("rounding to a grid leaves no digits beyond it", () => {
  assert.equal(roundTo(metres, 1.23456789, 10), 1.23);
  assert.equal(roundTo(metres, 0.1 + 0.2, 1), 0.3);
  assert.equal(roundTo(mm, 1234.5678, 10), 1230);
  assert.equal(roundTo(inches, 10.004, 1), 10);
});

test("a typed length may have a comma or a true minus, and nothing else", () => {
  assert.equal(typedLength(" 12,5 "), 12.5);
  assert.equal(typedLength("−40"), -40);
  assert.equal(typedLength("1e3"), 1000);
  for (const bad of ["", "12 mm", "1,2,3", "0x10", "Infinity", "NaN", "1e10", "--1"]) {
    assert.equal(typedLength(bad), null, bad);
  }
});

test("a place is shown with the digits it was typed with", () => {
  assert.equal(plainText(-3200.5), "-3200.5");
  assert.equal(plainText(0.1 + 0.2), "0.3");
  assert.equal(plainText(1300), "1300");
});

test("lists of names end with and, long ones with how many more", () => {
  assert.equal(listOf([]), "");
  assert.equal(listOf(["a"]), "a");
  assert.equal(listOf(["a", "b", "c"]), "a, b and c");
  assert.equal(listOf(["a", "b", "c", "d"], 3), "a, b, c and 1 more");
});
