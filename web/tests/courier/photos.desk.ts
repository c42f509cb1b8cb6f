// Photos between two phones and the real server (tests/sync/test_photos_of_phones.py starts it).
import "fake-indexeddb/auto";
import { afterEach, expect, test } from "vitest";
import { open_phone, type Phone } from "./phones";

const DESK = process.env.DESK ?? "";
const CODES = (process.env.CODES ?? "").split(",");
const BYTES = new Uint8Array(150_000).map((_, at) => (at * 31 + (at >> 8)) % 256);
const PICTURE = new Blob([BYTES], { type: "image/jpeg" });

const open: Phone[] = [];

async function paired(): Promise<Phone> {
  const phone = await open_phone();
  phone.server.address = DESK;
  await phone.pair_with(CODES.pop() ?? "");
  open.push(phone);
  return phone;
}

afterEach(async () => {
  for (const phone of open.splice(0)) await phone.close();
});

const bytes_of = async (blob: Blob | undefined) => blob && new Uint8Array(await blob.arrayBuffer());

test("a photo comes to the other phone, after its record and only once", async () => {
  const ana = await paired();
  const sha256 = await ana.keep_blob(PICTURE);
  expect(await ana.send_photos()).toBe(0);
  await ana.create("note", { photo: sha256 });
  expect(await ana.send_photos()).toBe(0);
  await ana.exchange();
  expect(await ana.send_photos()).toBe(1);
  expect(await ana.send_photos()).toBe(0);
  const ben = await paired();
  await ben.exchange();
  expect(ben.all("note").value.map(({ photo }) => photo)).toEqual([sha256]);
  expect(await ben.rows("blobs")).toEqual([]);
  expect(await bytes_of(await ben.photo_of(sha256))).toEqual(BYTES);
  expect(await ben.rows("blobs")).toHaveLength(1);
  ben.server.address = "http://127.0.0.1:1";
  expect(await bytes_of(await ben.photo_of(sha256))).toEqual(BYTES);
});

test("a photo whose sending was cut is sent again, and keeps no record waiting", async () => {
  const ana = await paired();
  const other = new Blob([BYTES.map((byte) => byte ^ 1)], { type: "image/jpeg" });
  const sha256 = await ana.keep_blob(other);
  await ana.create("note", { photo: sha256 });
  await ana.exchange();
  const { fetch } = globalThis;
  globalThis.fetch = async (asked, how) => {
    if (!String(asked).endsWith("/photos")) return fetch(asked, how);
    throw new TypeError("cut");
  };
  try {
    await expect(ana.send_photos()).rejects.toThrow("does not answer");
    await ana.create("note", { text: "written meanwhile" });
    await ana.exchange();
    expect(await ana.rows("outbox")).toEqual([]);
  } finally {
    globalThis.fetch = fetch;
  }
  const ben = await paired();
  expect(await ben.photo_of(sha256)).toBeUndefined();
  expect(await ana.send_photos()).toBe(1);
  expect(await bytes_of(await ben.photo_of(sha256))).toEqual(BYTES.map((byte) => byte ^ 1));
});

test("what is no photo to the desk stays here and the next one goes", async () => {
  const ana = await paired();
  const no_photo = await ana.keep_blob(new Blob(["words"], { type: "text/plain" }));
  const photo = await ana.keep_blob(new Blob([BYTES.slice(1)], { type: "image/png" }));
  for (const sha256 of [no_photo, photo]) await ana.create("note", { photo: sha256 });
  await ana.exchange();
  expect(await ana.send_photos()).toBe(1);
  expect(await ana.rows("blobs")).toHaveLength(2);
});
