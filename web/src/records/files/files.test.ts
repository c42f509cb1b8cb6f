import "fake-indexeddb/auto";
import { gunzipSync, gzipSync } from "node:zlib";
import { IDBFactory } from "fake-indexeddb";
import { openDB } from "idb";
import { beforeEach, describe, expect, test, vi } from "vitest";
import { sha256_hex } from "../../outbox/sha256";
import { SCHEMA } from "../fold";
import { MOST_FILE_BYTES } from "./format";

/** A phone with nothing on it: its own store, and the page's modules loaded anew. */
async function new_phone() {
  vi.resetModules();
  globalThis.indexedDB = new IDBFactory();
  return {
    store: globalThis.indexedDB,
    ...(await import("../read")),
    ...(await import("../write")),
    ...(await import("./in")),
    ...(await import("./out")),
    ...(await import("./csv")),
  };
}

type Phone = Awaited<ReturnType<typeof new_phone>>;

const KINDS = ["client", "line", "formula", "note"] as const;

async function with_a_day_on_it(): Promise<Phone> {
  const phone = await new_phone();
  const client = await phone.create("client", { name: "Ona Fictive", colour_reaction: "mild" });
  const line = await phone.create("line", { name: "Still", legend: { "2": ["violet"] } });
  await phone.change("line", line, { mix_ratio: 1.5 });
  await phone.remove("line", line);
  const photo = await phone.keep_blob(new Blob([new Uint8Array([0, 255, 10, 13])]));
  await phone.create("note", { client, text: "“porous”\nends, =1+1", photo });
  return phone;
}

function shown(phone: Phone): unknown[] {
  return KINDS.flatMap((kind): unknown[] => [...phone.all(kind).value]);
}

async function outbox(phone: Phone) {
  globalThis.indexedDB = phone.store;
  const opened = await openDB("basinside");
  const operations = await opened.getAll("outbox");
  opened.close();
  return operations;
}

/** The saved file's lines, which a test may spoil and pack again with a sum that fits. */
async function lines_of(file: Blob): Promise<string[]> {
  return gunzipSync(Buffer.from(await file.arrayBuffer()))
    .toString()
    .split("\n")
    .slice(0, -2);
}

async function packed(lines: string[]): Promise<Blob> {
  const body = `${lines.join("\n")}\n`;
  const sha256 = await sha256_hex(new TextEncoder().encode(body));
  return new Blob([gzipSync(`${body}${JSON.stringify({ sha256, lines: lines.length })}\n`)]);
}

let phone: Phone;
let file: File;
beforeEach(async () => {
  phone?.close_records();
  phone = await with_a_day_on_it();
  file = await phone.everything_as_file();
});

test("everything comes back on another phone, and the same file twice adds nothing", async () => {
  const before = shown(phone);
  const other = await new_phone();
  await other.create("note", { text: "of its own" });
  const first = await other.take_file_in(file);
  expect(first).toEqual({ operations: 5, photos: 1, known: 0 });
  const own = other.all("note").value.filter(({ text }) => text === "of its own");
  expect(shown(other).filter((one) => !own.includes(one as never))).toEqual(before);
  expect(await (await other.blob_of(String(photo_of(other))))?.arrayBuffer()).toEqual(
    new Uint8Array([0, 255, 10, 13]).buffer,
  );

  expect(await other.take_file_in(file)).toEqual({ operations: 0, photos: 0, known: 5 });
  const kept = await outbox(other);
  expect(kept.map(({ device_seq }) => device_seq)).toEqual([1, 2, 3, 4, 5, 6]);
  expect(new Set(kept.map(({ op_id }) => op_id)).size).toBe(6);
  // The phone it came from knows it all already.
  globalThis.indexedDB = phone.store;
  expect(await phone.take_file_in(await other.everything_as_file())).toMatchObject({
    operations: 1,
    known: 5,
  });
  expect(shown(phone)).toEqual(shown(other));
});

function photo_of(phone: Phone) {
  return phone.all("note").value.find(({ photo }) => photo)?.photo;
}

test("what came in is written on by the phone it came to", async () => {
  const other = await new_phone();
  await other.take_file_in(file);
  const [client] = other.all("client").value;
  await other.change("client", String(client?.id), { phone: "555 0100" });
  expect(other.one("client", String(client?.id)).value).toMatchObject({ phone: "555 0100" });
  const last = (await outbox(other)).at(-1);
  expect(last).toMatchObject({ device_seq: 6, base: { phone: [] } });
  expect((await outbox(other))[0]?.orig?.device_seq).toBe(1);
});

test("a passphrase opens what it has locked, whatever way its letters were typed", async () => {
  const sealed = await phone.everything_as_file("bête noire");
  const other = await new_phone();
  const text = Buffer.from(await sealed.arrayBuffer()).toString("latin1");
  expect(text).not.toContain("porous");
  expect(await other.take_file_in(sealed, "be\u0302te noire")).toMatchObject({ operations: 5 });
});

// PBKDF2-HMAC-SHA-256, "passwd", "salt", 1 round, first 32 bytes: RFC 7914 §11.
test("the browser's PBKDF2 is the published one", async () => {
  const typed = await crypto.subtle.importKey("raw", Buffer.from("passwd"), "PBKDF2", false, [
    "deriveBits",
  ]);
  const how = { name: "PBKDF2", hash: "SHA-256", salt: Buffer.from("salt"), iterations: 1 };
  const bits = await crypto.subtle.deriveBits(how, typed, 256);
  expect(Buffer.from(bits).toString("hex")).toBe(
    "55ac046e56e3089fec1691c22544b605f94185216dde0465e68b9d57c20dacbc",
  );
});

describe("a bad file is refused with the place, and nothing of it is kept:", () => {
  async function refused(bad: Blob, words: string | RegExp, passphrase = "") {
    const other = await new_phone();
    await other.open_records();
    await expect(other.take_file_in(bad, passphrase)).rejects.toThrow(words);
    expect(shown(other)).toEqual([]);
    expect(await outbox(other)).toEqual([]);
    other.close_records();
  }

  test("another kind of file", async () => {
    await refused(new Blob(["name,phone\r\n"]), "Basinside did not save this file");
    await refused(new Blob([]), "Basinside did not save this file");
    await refused(
      await packed(['{"format":"a diary"}']),
      "Line 1 does not say that this is a file",
    );
  });

  test("one that was cut, wherever it was", async () => {
    const whole = Buffer.from(await file.arrayBuffer());
    for (let length = 0; length < whole.length; length += 37) {
      await refused(new Blob([whole.subarray(0, length)]), /cut|did not save/);
    }
  });

  test("one that unpacks, but ends too early", async () => {
    const text = gunzipSync(Buffer.from(await file.arrayBuffer())).toString();
    for (let length = 1; length < text.length; length += 211) {
      await refused(new Blob([gzipSync(text.slice(0, length))]), /^Line \d+|^This file is cut/);
    }
  });

  test("one with a byte changed", async () => {
    const text = gunzipSync(Buffer.from(await file.arrayBuffer())).toString();
    const changed = text.replace("Ona Fictive", "Una Fictive");
    await refused(new Blob([gzipSync(changed)]), "This file is not as it was saved");
  });

  test("another version, of the file or of what is in it", async () => {
    const lines = await lines_of(file);
    const newer = lines.with(0, (lines[0] as string).replace('"version":1', '"version":2'));
    await refused(
      await packed(newer),
      "This file is of version 2, and this Basinside reads version 1",
    );
    const ahead = lines.map((line) => line.replace(`"schema":${SCHEMA}`, '"schema":99'));
    await refused(await packed(ahead), "Line 2: an operation of schema 99");
  });

  test.each([
    ['{"op":{}}', "Line 3: an operation has no op_id"],
    ['{"op":null}', "Line 3: an operation has no op_id"],
    ["{}", "Line 3: nothing that Basinside knows"],
    ["[]", "Line 3 of this file is cut or was changed"],
    [
      '{"photo":"AAAA","sha256":"00","type":"image/jpeg"}',
      "Line 3: a photo is not the one that was saved",
    ],
    ['{"base":{"id":"x"}}', "Line 3: a record has no id, kind or fields"],
    ['{"tray":{}}', "Line 3: a refused entry has no id"],
  ])("the line %s", async (line, words) => {
    const lines = await lines_of(file);
    await refused(await packed(lines.toSpliced(2, 0, line)), words);
  });

  test.each([
    ["hlc", "yesterday", "Line 2: A stamp is a time"],
    ["kind", "DROP TABLE", 'Line 2: "DROP TABLE" is no kind of operation'],
    ["fields", [1], "Line 2: an operation's fields is no object"],
    ["base", { name: "x" }, "Line 2: an operation does not say which writes its author saw"],
    ["seen", "x", "Line 2: an operation does not say which writes its author saw"],
    ["schema", "1", "Line 2: an operation has no schema or no number"],
    ["by", 7, "Line 2: an operation has no author"],
    ["fields", { text: "x".repeat(70_000) }, "Line 2: an operation is too large"],
  ])("an operation whose %s is %j", async (name, value, words) => {
    const lines = await lines_of(file);
    const { op } = JSON.parse(lines[1] as string);
    const line = JSON.stringify({ op: { ...op, [name]: value } });
    await refused(await packed(lines.with(1, line)), words);
  });

  test("fewer lines than its first one promises", async () => {
    const lines = await lines_of(file);
    await refused(
      await packed(lines.toSpliced(2, 1)),
      "Line 1 promises 5 operations, and there are 4",
    );
  });

  test("a huge one, and a small one that unpacks to a huge one", async () => {
    const huge = { size: MOST_FILE_BYTES + 1 } as Blob;
    await refused(huge, "This file has 129 MB, and at most 128 MB can be imported");
    // 300 MB of nothing, in pieces of a gzip file that may be strung together (RFC 1952 §2.2).
    const piece = gzipSync(Buffer.alloc(50 * 1024 * 1024));
    const bomb = new Blob(Array.from({ length: 6 }, () => piece));
    expect(bomb.size).toBeLessThan(1024 * 1024);
    await refused(bomb, /unpacks to more than 256 MB/);
  }, 120_000);

  test("another passphrase, or none, or a locked file that was changed or cut", async () => {
    const sealed = await phone.everything_as_file("violet");
    const bytes = Buffer.from(await sealed.arrayBuffer());
    await refused(sealed, "This file has a passphrase");
    await refused(sealed, "The passphrase is wrong, or the file was changed or cut", "Violet");
    const changed = Buffer.from(bytes);
    changed[bytes.length - 20] = (changed[bytes.length - 20] as number) ^ 1;
    await refused(
      new Blob([changed]),
      "The passphrase is wrong, or the file was changed or cut",
      "violet",
    );
    await refused(new Blob([bytes.subarray(0, -9)]), "The passphrase is wrong", "violet");
    await refused(
      new Blob([bytes.subarray(0, 60)]),
      "The first line of this file is cut",
      "violet",
    );
    const rounds = bytes.toString("latin1").replace('"rounds":600000', '"rounds":6000000000');
    await refused(new Blob([Buffer.from(rounds, "latin1")]), "Line 1 of this file", "violet");
    const version = bytes.toString("latin1").replace('"version":1', '"version":9');
    await refused(new Blob([Buffer.from(version, "latin1")]), "lock is of version 9", "violet");
  });

  test("a sound one while the phone is full", async () => {
    const other = await new_phone();
    await other.open_records();
    const put = IDBObjectStore.prototype.put;
    let left = 4;
    IDBObjectStore.prototype.put = function (this: IDBObjectStore, ...row) {
      const request = put.apply(this, row as [unknown]);
      left -= 1;
      const whole = this.transaction as unknown as { _abort(name: string): void };
      if (left === 0) whole._abort("QuotaExceededError");
      return request;
    } as typeof put;
    await expect(other.take_file_in(file)).rejects.toThrow("This phone has no room");
    IDBObjectStore.prototype.put = put;
    expect(await outbox(other)).toEqual([]);
    expect(await other.take_file_in(file)).toMatchObject({ operations: 5 });
  });
});

describe("a table", () => {
  type Range = { within_delta_e: number; edges: [Edge, Edge] };
  type Edge = { lab: [number, number, number]; hex: string };
  const EDGE: Edge = { lab: [70, 1, 20], hex: "#aaaaaa" };
  const SURE: Range = { within_delta_e: 0, edges: [EDGE, EDGE] };

  test("quotes as RFC 4180 says and runs no formula in a spreadsheet", async () => {
    const written = (cell: string | number | undefined) => phone.table([[cell, "|"]]);
    // RFC 4180 §2, rules 5 to 7.
    expect(written('b"bb')).toBe('"b""bb",|\r\n');
    expect(written("b\r\nbb")).toBe('"b\r\nbb",|\r\n');
    expect(written("a,b")).toBe('"a,b",|\r\n');
    expect(written("plain")).toBe("plain,|\r\n");
    // OWASP, CSV Injection: cells that begin with one of these are run.
    for (const start of ["=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠"]) {
      expect(written(`${start}cmd`)).toBe(`"'${start}cmd",|\r\n`);
    }
    expect(written(-3.5)).toBe("-3.5,|\r\n");
    expect(written(undefined)).toBe(",|\r\n");
  });

  test("of clients, formulas and notes has a row for each", async () => {
    const [client] = phone.all("client").value;
    await phone.create("formula", {
      name: "=SUM(A1)",
      client: String(client?.id),
      mix: {
        parts: [{ product: "st9vb", grams: 40 }],
        developer: { percent: 1.9, grams: 40 },
        minutes: 10,
      },
      products: [
        {
          id: "st9vb",
          name: "9 violet blue",
          line: "Still",
          class: "alkaline_demi",
          level: 9,
          tone: ["violet", "blue"],
          developer_percent: [1.9],
          window: { min: 5, max: 20 },
        },
      ],
      predicted: { lab: [70, 1, 20], hex: "#aaaaaa", words: "pale beige", range: SURE },
    });
    const [head, row, end] = phone.formulas_csv().split("\r\n");
    expect(head).toBe(
      "name,client,parts,developer_percent,developer_g,minutes,lightness,a,b,colour,made_at,id",
    );
    expect(row).toMatch(
      /^"'=SUM\(A1\)",Ona Fictive,9 violet blue 40 g,1\.9,40,10,70,1,20,pale beige,/,
    );
    expect(end).toBe("");
    expect(phone.clients_csv()).toContain("Ona Fictive,,,,,,,mild,");
    expect(phone.notes_csv()).toContain('Ona Fictive,"“porous”\nends, =1+1",');
  });
});
