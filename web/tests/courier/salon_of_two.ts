// A salon of two paired phones, answered by the model of its server.
import { vi } from "vitest";
import { open_phone } from "./phones";
import { Salon } from "./salon_model";

/** Opens a salon of two phones; what is fetched from then on goes to it. */
export async function salon_of_two() {
  const salon = new Salon();
  vi.stubGlobal("fetch", salon.fetch);
  const ana = await open_phone();
  const ben = await open_phone();
  await ana.pair();
  await ben.pair();
  return { salon, ana, ben };
}
