// PouchDB behind HTTP on a free port of this machine, its databases in LevelDB in a folder.
import "./durable.mjs";
import express from "express";
import express_pouchdb from "express-pouchdb";
import PouchDB from "pouchdb";

const prefix = `${process.argv[2]}/`;
const app = express();
const settings = { mode: "minimumForPouchDB", inMemoryConfig: true, logPath: `${prefix}log.txt` };
app.use("/", express_pouchdb(PouchDB.defaults({ prefix }), settings));
const server = app.listen(0, "127.0.0.1", () => {
  process.stdout.write(`http://127.0.0.1:${server.address().port}\n`);
});
