// A worked program: asks for a formulation, pairs, writes a client down and reads it back. Its
// types come from /openapi.json alone; `types.ts` is made beside it.
import { randomUUID } from "node:crypto";
import createClient from "openapi-fetch";
import type { components, paths } from "./types.js";

type Shape = components["schemas"];

const baseUrl = process.env.BASINSIDE;
const anybody = createClient<paths>({ baseUrl });

const asked = JSON.parse(process.env.ASKED ?? "") as Shape["FormulationRequest"];
const { data: formulated } = await anybody.POST("/api/formulations", { body: asked });
const products = formulated?.formulas[0]?.mix.parts.map((part) => part.product);

const device_id = randomUUID();
const { data: paired } = await anybody.POST("/api/devices/pair", {
  body: { v: 1, code: process.env.CODE ?? "", device_id, name: "Till" },
});
if (!paired) throw new Error("The desk let nobody in.");

const client = createClient<paths>({
  baseUrl,
  headers: { authorization: `Bearer ${paired.token}` },
});
const now = new Date().toISOString();
const op: Shape["Operation"] = {
  op_id: randomUUID(),
  device_seq: 1,
  hlc: `${now}-0000-${device_id}`,
  schema: 1,
  kind: "client.create",
  entity_id: randomUUID(),
  by: process.env.BY ?? "",
  fields: { name: "Una Petrel" },
};
const { data: pushed } = await client.POST("/api/sync/push", {
  body: { v: 1, device_id, epoch: paired.epoch, sent_at: now, ops: [op] },
});
const { data: pulled } = await client.GET("/api/sync/pull");
const { error } = await anybody.GET("/api/sync/pull");

process.stdout.write(
  JSON.stringify({
    products,
    op_id: op.op_id,
    accepted: pushed?.accepted.map((each) => each.op_id),
    name: pulled?.changes[0]?.fields.name?.v,
    refused: error && "code" in error ? error.code : null,
  }),
);
