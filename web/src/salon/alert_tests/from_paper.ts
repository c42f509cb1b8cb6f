// An alert test that was done on paper, as the record keeps it.

import { at_now, rfc3339 } from "../../device/when";
import { author_here } from "../../records/read";
import { new_id, together } from "../../records/write";
import { LEAST_HOURS, of_line, type Result, remember_reader } from "./alert_tests";

/** A day and, where the paper has it, the hour, as the phone's clock shows them. */
interface PaperMoment {
  day: string;
  hour: string;
}

/** What the paper says. */
interface PaperTest {
  line: string;
  put_on: PaperMoment;
  read: PaperMoment;
  result: Result;
  applied_by: string;
  used_before: string;
  reader: string;
}

const HOUR_MS = 3_600_000;

/**
 * Returns when it was put on and read, in ms since 1970. Without an hour it was put on as late and
 * read as early as those days allow: never older, and never read later, than it may be.
 */
export function moments_of({ put_on, read }: Pick<PaperTest, "put_on" | "read">, now_ms: number) {
  return {
    put_on_ms: Math.min(at(put_on, "23:59"), put_on.hour ? Number.POSITIVE_INFINITY : now_ms),
    read_ms: at(read, "00:00"),
  };
}

function at({ day, hour }: PaperMoment, without: string): number {
  return new Date(`${day}T${hour || without}:00`).getTime();
}

/** Whether such moments can be, and what is to be said of each. */
export interface Looked {
  can_be: boolean;
  put_on?: string;
  read?: string;
}

/** Looks at the moments on a paper, in words for whoever types them. */
export function look_at(test: Pick<PaperTest, "put_on" | "read">, now_ms: number): Looked {
  const { put_on_ms, read_ms } = moments_of(test, now_ms);
  const to_come = "That day is still to come. Take the day on the paper.";
  const today = rfc3339(now_ms).slice(0, 10);
  if (put_on_ms > now_ms || test.put_on.day > today) return { can_be: false, put_on: to_come };
  if (read_ms > now_ms) return { can_be: false, read: to_come };
  const order = (moment: PaperMoment) => `${moment.day}T${moment.hour}`;
  if (test.read.day && order(test.read) < order(test.put_on)) {
    return { can_be: false, read: "It was read before it was put on. Check both days." };
  }
  if (read_ms - put_on_ms < LEAST_HOURS * HOUR_MS) {
    const hours = test.put_on.hour && test.read.hour ? "" : " Both hours may help.";
    return { can_be: true, read: `That is not surely ${LEAST_HOURS} hours later.${hours}` };
  }
  return { can_be: true };
}

/** Keeps the test, and whether an earlier colouring relied on it, as one act; returns its id. */
export async function keep_paper_test(client: string, paper: PaperTest): Promise<string> {
  const { line, result, applied_by, used_before, reader } = paper;
  const { put_on_ms, read_ms } = moments_of(paper, Date.now());
  const id = new_id();
  remember_reader(reader);
  const fields = {
    client,
    ...of_line(line),
    applied_at: rfc3339(put_on_ms),
    read_at: rfc3339(read_ms),
    read_by: reader,
    result,
    applied_by,
    from_paper: true,
  };
  const said = { value: used_before, at: at_now(), by: author_here.peek() };
  await together(
    [
      { do: "create", kind: "alert_test", id, fields },
      {
        do: "change",
        kind: "client",
        id: client,
        fields: { [`answers.used_before:${id}`]: said },
      },
    ],
    "Added the alert test.",
  );
  return id;
}
