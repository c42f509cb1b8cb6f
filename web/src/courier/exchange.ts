// One whole exchange with the server: sends what waits, hands back what the server lacks, and takes
// what changed.
import { bring_check } from "../records/checked";
import { Trouble } from "./call";
import { hand_back, let_old_go } from "./hand_back";
import { type Caller, caller } from "./position";
import { fetch_all } from "./pull";
import { push_all } from "./push";
import { recover } from "./recover";

const MOST_TRIES = 6;

/** How much came back from this phone to a desk that had lost it. */
interface Exchanged {
  handed_back: number;
}

/**
 * Exchanges everything. Throws `Trouble`, and `NotPaired` if this phone is not paired with a salon.
 */
export async function exchange(): Promise<Exchanged> {
  let handed_back = 0;
  await bring_check().catch(() => undefined);
  for (let left = MOST_TRIES; ; left -= 1) {
    try {
      const kept_back = await push_all(await now()).then(() => undefined, reason_to_wait);
      if (!(await now()).position.cursor) handed_back += await hand_back(await now());
      const first = !(await now()).position.cursor;
      await fetch_all(await now());
      if (first) await let_old_go(await now());
      if (kept_back) throw kept_back;
      return { handed_back };
    } catch (why) {
      if (!(why instanceof Trouble) || left === 1 || !(await recover(why))) throw why;
    }
  }
}

/** Thrown where there is no salon to exchange with. */
class NotPaired extends Error {}

async function now(): Promise<Caller> {
  const here = await caller();
  if (!here) throw new NotPaired("This phone is not paired.");
  return here;
}

/** A desk that takes nothing now may still have something to give. */
function reason_to_wait(why: unknown): Trouble {
  const gives = ["schema_ahead", "disk_full", "busy"];
  if (why instanceof Trouble && gives.includes(why.code)) return why;
  throw why;
}
