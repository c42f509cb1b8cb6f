import { expect, test } from "vitest";
import { wish_in, wish_words } from "./wish_words";

// What colourists write beside a name: common practice, no published source.
test.each([
  ["level 9 pearl", "level 9 pearl", "level 9 pearl"],
  ["toner, 9½ Beige ash, 2 h", "level 9.5 beige ash", "9½ Beige ash"],
  ["copper 7", "level 7 copper", "copper 7"],
  ["lvl 10.5: pearl", "level 10.5 pearl", "lvl 10.5: pearl"],
  ["L8,5 gold and gold", "level 8.5 gold", "L8,5 gold and gold"],
])("%j wishes for %s", (text, says, words) => {
  const found = wish_in(text);
  expect(found && wish_words(found.wish)).toBe(says);
  expect(found?.words).toBe(words);
});

test.each([
  "toner",
  "9",
  "pearl",
  "2 h, pearl",
  "level 14 pearl",
  "19 pearl",
  "ext. 07-9 pearl",
  "9 pearls",
  "level 9, then pearl",
  "",
])("%j names no level beside a tone", (text) => {
  expect(wish_in(text)).toBeUndefined();
});
