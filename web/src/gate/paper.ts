// An alert test that was done on paper, as the record keeps it.
import { of_line, remember_reader } from "../records/alert_tests";
import { writer_here } from "../records/read";
import { at_now, rfc3339 } from "../records/when";
import { new_id, together } from "../records/write";
import type { Service } from "./facts";

/** What the paper says; moments as the phone's own clock shows them, without an offset. */
export interface PaperTest {
  line: string;
  put_on: string;
  read: string;
  result: string;
  applied_by: string;
  used_before: string;
  reader: string;
}

/** Keeps the test, and whether an earlier colouring relied on it, as one act. */
export async function keep_paper_test(service: Service, paper: PaperTest): Promise<void> {
  const { line, put_on, read, result, applied_by, used_before, reader } = paper;
  const client = service.client ?? "";
  const id = new_id();
  remember_reader(reader);
  const fields = {
    client,
    ...of_line(line),
    applied_at: rfc3339(Date.parse(put_on)),
    read_at: rfc3339(Date.parse(read)),
    read_by: reader,
    result,
    applied_by,
    from_paper: true,
  };
  const said = { value: used_before, at: at_now(), by: writer_here.peek() };
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
    "Wrote down the alert test.",
  );
}
