// Two PouchDBs in one process, in LevelDB: A's documents go to the server, B takes them from there.
import "./durable.mjs";
import PouchDB from "pouchdb";
import { notes, timed } from "./notes.mjs";

const [address, folder, count, batch_size] = process.argv.slice(2);
const settings = { batch_size: Number(batch_size), batches_limit: 10 };
const [a, b] = [new PouchDB(`${folder}/a`), new PouchDB(`${folder}/b`)];
const remote = new PouchDB(`${address}/salon`);
await remote.info();
const written = notes(Number(count), "0199c0de-0000-7000-8000-d00000000001");
const documents = written.map((op) => ({ _id: op.entity_id, ...op }));
const local_ms = await timed(() => a.bulkDocs(documents));
const to_ms = await timed(() => a.replicate.to(remote, settings));
const from_ms = await timed(() => remote.replicate.to(b, settings));
const { rows } = await b.allDocs({ include_docs: true });
const texts = new Set(rows.map(({ doc }) => doc.fields.text));
const same = written.every(({ fields }) => texts.has(fields.text));
const { doc_count } = await remote.info();
if (doc_count !== written.length) throw new Error("not all arrived at the server");
process.stdout.write(JSON.stringify({ local_ms, to_ms, from_ms, count: rows.length, same }));
process.exit(0);
