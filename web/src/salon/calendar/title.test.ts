import { expect, test } from "vitest";
import type { Client } from "../clients";
import { known_names, slips_between, titled } from "./title";

const client = (id: string, name: string) => ({ id, name, created_at: "", by: "" }) as Client;
const KNOWN = known_names(
  ["Ida Quell", "Bo Larkspur", "Tove Ash", "Zoë Marek", "Ida Quell", "Wren", "Jo O’Hara"].map(
    (name, at) => client(String(at), name),
  ),
);

test.each([
  ["Bo Larkspur", "exact", ["1"], "Bo Larkspur", ""],
  ["bo larkspur: roots + ends", "exact", ["1"], "Bo Larkspur", "roots + ends"],
  ["Tove Ash (regular)", "exact", ["2"], "Tove Ash", "regular"],
  ["Toner, Zoe Marek, 2 h", "exact", ["3"], "Zoë Marek", "Toner; 2 h"],
  ["Marek, Zoë", "exact", ["3"], "Zoë Marek", ""],
  ["Larkspur, Bo - level 9 pearl (long)", "exact", ["1"], "Bo Larkspur", "level 9 pearl (long)"],
  // Two clients have the name: both are offered, and none is guessed.
  ["Ida Quell - toner", "exact", ["0", "4"], "Ida Quell", "toner"],
  ["Wren - gloss", "exact", ["5"], "Wren", "gloss"],
  // A word that is a client's whole name does not make every title with it that client's.
  ["Wing cut like a wren does", "none", [], "Wing cut like a wren does", ""],
  ["Bo Larkspurr - roots", "near", ["1"], "Bo Larkspurr", "roots"],
  ["Tove Ahs", "near", ["2"], "Tove Ahs", ""],
  ["Zoë M.", "near", ["3"], "Zoë M.", ""],
  ["Bo, roots", "near", ["1"], "Bo", "roots"],
  ["Jo O'Hara: cut", "exact", ["6"], "Jo O’Hara", "cut"],
  ["Ruth Ember – colour", "none", [], "Ruth Ember", "colour"],
  ["Ember, Ruth", "none", [], "Ruth Ember", ""],
  ["Ruth Ember, colour", "none", [], "Ruth Ember", "colour"],
  ["Anne-Marie Pell", "none", [], "Anne-Marie Pell", ""],
  ["Al", "none", [], "Al", ""],
])("%j is %s", (title, match, clients, name, rest) => {
  const found = titled(title, KNOWN);
  expect(found.clients.map(({ id }) => id)).toEqual(clients);
  expect([found.match, found.name, found.rest]).toEqual([match, name, rest]);
});

// The optimal string alignment distance, worked by hand: a swap of two neighbours is one slip.
test.each([
  ["quell", "quell", 0],
  ["quell", "qeull", 1],
  ["quell", "qell", 1],
  ["quell", "quills", 2],
  ["ash", "quell", 4],
])("between %j and %j are %i slips, up to the most that counts", (a, b, slips) => {
  expect(slips_between(a, b, 3)).toBe(slips);
  expect(slips_between(b, a, 3)).toBe(slips);
});
