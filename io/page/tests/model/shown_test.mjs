import assert from "node:assert/strict";
import { test } from "node:test";

import { shown } from "../../app/model/shown.ts";

test("controls and marks of direction are written out, as in the program", () => {
  assert.equal(shown("a\x1b[2J\x7f\x9b\r"), "a\\x1b[2J\\x7f\\x9b\\r");
  assert.equal(
    shown("\u202e\u202a\u2066\u2069\u200e\u200f\u061c\u2028\u2029"),
    "\\u202e\\u202a\\u2066\\u2069\\u200e\\u200f\\u061c\\u2028\\u2029",
  );
});

test("other text stays as it is", () => {
  const text = "pad-1\n\té € 橋 🔩 \u200b\u200d";
  assert.equal(shown(text), text);
});
