// The page puts a service before the safety rules as written down; the server is held to the same.
import { expect, test } from "vitest";
import vectors from "../../../tests/vectors/gate.json";
import { asked, type Case } from "../../tests/gate/requests";

for (const { name, operations, service, asked: expected } of vectors) {
  test(name, () => {
    const found = asked({ operations, service } as unknown as Case);
    expect(JSON.parse(JSON.stringify(found))).toEqual(expected);
  });
}
