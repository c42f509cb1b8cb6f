// Two devices of ours in one process: A's queued notes go to the desk, B pulls them. Both keep what
// they have in LevelDB and force every batch to the disk (`sync`) before they go on.
import { request, Agent } from "node:http";
import leveldown from "leveldown";
import levelup from "levelup";
import { notes, timed } from "./notes.mjs";

const [address, folder, count, code_a, code_b] = process.argv.slice(2);
const AT_ONCE = 500;
const agent = new Agent({ keepAlive: true, maxSockets: 1 });
const key = (number) => String(number).padStart(12, "0");

function ask(method, path, token, body) {
  return new Promise((resolve, reject) => {
    const headers = { "content-type": "application/json", authorization: `Bearer ${token}` };
    const sent = request(address + path, { method, agent, headers }, (reply) => {
      const parts = [];
      reply.on("data", (part) => parts.push(part));
      reply.on("end", () => {
        const said = Buffer.concat(parts).toString();
        if (reply.statusCode === 200) resolve(JSON.parse(said));
        else reject(new Error(said));
      });
    });
    sent.on("error", reject);
    sent.end(body);
  });
}

async function device(number, code) {
  const device_id = `0199c0de-0000-7000-8000-d${key(number).slice(1)}`;
  const asked = { v: 1, code, device_id, name: `device ${number}` };
  const { token, epoch } = await ask("POST", "/api/devices/pair", "", JSON.stringify(asked));
  return { device_id, token, epoch, db: levelup(leveldown(`${folder}/${number}`)) };
}

async function entries(db, range) {
  const found = [];
  for await (const each of db.iterator({ keyAsBuffer: false, valueAsBuffer: false, ...range }))
    found.push(each);
  return found;
}

/** The next operations that wait, as they lie on the disk: they are sent as they are. */
const waiting_after = (db, last) => entries(db, { gt: last, lt: "outbox/~", limit: AT_ONCE });

// The receipts of a batch are kept while the next one is on its way, and are waited for before
// the one after it. A process that dies between them sends a batch again, which is a duplicate.
async function push_all({ db, device_id, token, epoch }) {
  let kept = Promise.resolve();
  for (let next = await waiting_after(db, "outbox/"); next.length; ) {
    const sent_at = new Date().toISOString();
    const head = JSON.stringify({ v: 1, device_id, epoch, sent_at, queued: next.length });
    const body = `${head.slice(0, -1)},"ops":[${next.map(([, op]) => op).join()}]}`;
    const answer = ask("POST", "/api/sync/push", token, body);
    const after = waiting_after(db, next.at(-1)[0]);
    const told = await answer;
    if (told.accepted.length !== next.length) throw new Error("not all were accepted");
    const batch = next.flatMap(([at, op]) => [
      { type: "del", key: at },
      { type: "put", key: at.replace("outbox", "sent"), value: op },
    ]);
    await kept;
    kept = db.batch(batch, { sync: true });
    next = await after;
  }
  await kept;
}

// The next page is asked for while this one is kept. The cursor lies in the transaction of its
// page, so that a process which dies between them asks for a page again.
async function pull_all({ db, token }) {
  const page = async (cursor) => {
    const query = `limit=${AT_ONCE}${cursor && `&cursor=${cursor}`}`;
    return ask("GET", `/api/sync/pull?${query}`, token);
  };
  for (let next = page(""); next; ) {
    const { changes, next: cursor, more } = await next;
    next = more ? page(cursor) : undefined;
    const batch = changes.map((change) => ({
      type: "put",
      key: `base/${change.entity_id}`,
      value: JSON.stringify(change),
    }));
    await db.batch([...batch, { type: "put", key: "cursor", value: cursor }], { sync: true });
  }
}

const [a, b] = [await device(1, code_a), await device(2, code_b)];
const written = notes(Number(count), a.device_id);
const local_ms = await timed(async () => {
  for (let at = 0; at < written.length; at += AT_ONCE) {
    const rows = written.slice(at, at + AT_ONCE).map((op) => ({
      type: "put",
      key: `outbox/${key(op.device_seq)}`,
      value: JSON.stringify(op),
    }));
    await a.db.batch(rows, { sync: true });
  }
});
const to_ms = await timed(() => push_all(a));
const from_ms = await timed(() => pull_all(b));
const there = await entries(b.db, { gt: "base/", lt: "base/~" });
const texts = new Set(there.map(([, each]) => JSON.parse(each).fields.text.v));
const same = written.every(({ fields }) => texts.has(fields.text));
process.stdout.write(JSON.stringify({ local_ms, to_ms, from_ms, count: there.length, same }));
process.exit(0);
