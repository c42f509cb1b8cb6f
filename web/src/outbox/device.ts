// The identity that tells this phone's writes from every other's.
import { v7 as uuidv7 } from "uuid";
import { CLOCK_START, type Clock } from "./clock";

export interface Device {
  device_id: string;
  device_seq: number;
  clock: Clock;
}

/** Returns the identity of a phone that has none yet. */
export function new_device(): Device {
  return { device_id: uuidv7(), device_seq: 0, clock: CLOCK_START };
}
