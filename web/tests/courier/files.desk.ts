// A phone's file brought in at the real server (tests/sync/test_phones_at_a_desk.py starts it).
import "fake-indexeddb/auto";
import { expect, test } from "vitest";
import { open_phone } from "./phones";

const DESK = process.env.DESK ?? "";
const CODES = (process.env.CODES ?? "").split(",");

async function saved_file(): Promise<Blob> {
  const { everything_as_file } = await import("../../src/records/files/out");
  return everything_as_file();
}

async function paired() {
  const phone = await open_phone();
  phone.server.address = DESK;
  await phone.pair_with(CODES.pop() ?? "");
  return phone;
}

async function bring_in(token: string, file: Blob) {
  const headers = { authorization: `Bearer ${token}`, "content-type": "application/gzip" };
  const how = { method: "POST", headers, body: await file.arrayBuffer() };
  const reply = await fetch(`${DESK}/api/sync/import`, how);
  return { status: reply.status, told: await reply.json() };
}

test("a phone that was never paired saves all it has, and the desk takes it in once", async () => {
  const alone = await open_phone();
  const client = await alone.create("client", { name: "Ona Petrel", dye_allergy: "suspected" });
  const sha256 = await alone.keep_blob(new Blob(["a picture"], { type: "image/jpeg" }));
  await alone.create("note", { client, text: "beige at eight", photo: sha256 });
  await alone.change("client", client, { phone: "020 7946 0991" });
  const file = await saved_file();
  const waiting = (await alone.rows("outbox")).length;
  await alone.close();
  const desk = await paired();
  const { token } = (await desk.caller())?.pairing ?? { token: "" };
  const first = await bring_in(token, file);
  expect(first.told).toMatchObject({ accepted: waiting, known: 0, photos: 1, refused: [] });
  const again = await bring_in(token, file);
  expect(again.told).toMatchObject({ accepted: 0, known: waiting, photos: 0 });
  await desk.exchange();
  const [found] = desk.all("client").value;
  expect(found).toMatchObject({ name: "Ona Petrel", dye_allergy: "suspected" });
  expect(found?.phone).toBe("020 7946 0991");
  expect(await (await desk.photo_of(sha256))?.text()).toBe("a picture");
  await desk.close();
});

test("what came in a file is not taken twice when the phone sends it after all", async () => {
  const ana = await paired();
  await ana.create("note", { text: "written in the cellar" });
  const file = await saved_file();
  const { token } = (await ana.caller())?.pairing ?? { token: "" };
  const { told } = await bring_in(token, file);
  expect(told.accepted).toBeGreaterThan(0);
  await ana.exchange();
  expect(await ana.rows("outbox")).toEqual([]);
  expect(await ana.rows("tray")).toEqual([]);
  const written = ana.all("note").value.filter(({ text }) => text === "written in the cellar");
  expect(written).toHaveLength(1);
  expect((await bring_in(token, file)).told.accepted).toBe(0);
  await ana.close();
});
