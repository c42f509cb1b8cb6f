import { expect, test } from "vitest";
import { address_of, own_address, read_place } from "./place";

test.each([
  ["", { name: "today", id: "" }],
  ["#/", { name: "today", id: "" }],
  ["#/shelf", { name: "shelf", id: "" }],
  ["#/client/0199", { name: "client", id: "0199" }],
  ["#/nowhere/3", { name: "today", id: "" }],
  ["#before-you-mix", { name: "today", id: "" }],
  ["#/client/%E0%A4%A", { name: "client", id: "" }],
])("the address %j is the place %j", (hash, place) => {
  expect(read_place(hash)).toEqual(place);
});

test("an address leads back to the place it was made of", () => {
  expect(read_place(address_of("formula", "a/b c"))).toEqual({ name: "formula", id: "a/b c" });
  expect(read_place(address_of("today"))).toEqual({ name: "today", id: "" });
});

test.each([
  ["/", "", undefined],
  ["/index.html", "#/shelf", undefined],
  ["/settings", "", "/#/settings"],
  ["/client/0199", "", "/#/client/0199"],
  ["/old/bookmark", "#/shelf", "/#/shelf"],
])("a browser that opened %j with %j shows it at %j", (pathname, hash, own) => {
  expect(own_address(pathname, hash)).toBe(own);
});
