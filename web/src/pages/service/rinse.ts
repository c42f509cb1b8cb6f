// The rinse of a zone, and what comes after it.
import { lay_out } from "../../bench/bench";
import { open } from "../../bench/entries";
import { held, minute_in } from "../../prediction/held";
import { type Running, running } from "../../salon/service/running";
import { rinsed } from "../../salon/service/services";

/** Rinses a zone, with the colour its own head is foretold; what runs beside it comes next. */
export async function rinse(clock: Running): Promise<void> {
  const { prediction } = held(clock.zone);
  await rinsed(clock, (minute) => minute_in(prediction?.strip ?? [], minute)?.if_rinsed);
  const next = running.value.find((one) => one.service === clock.service);
  await lay_out(next?.zone ?? clock.zone, next ? "strip" : "result");
  if (!next) open("result");
}
