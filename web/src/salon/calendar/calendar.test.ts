import "fake-indexeddb/auto";
import { expect, test } from "vitest";
import { all, open_records } from "../../records/read";
import { change, create, undo } from "../../records/write";
import { read_days } from "./read";
import { called, proposed, take_in } from "./take";

const DAY = Date.UTC(2026, 10, 28);
const span = { from_ms: DAY, until_ms: DAY + 86_400_000 };
const at = (hour: number, minute = 0) => DAY + (hour * 60 + minute) * 60_000;
const read = (text: string, within = span) => read_days(new Blob([text]), within);

const calendar = (...events: string[]) =>
  ["BEGIN:VCALENDAR", "VERSION:2.0", ...events, "END:VCALENDAR", ""].join("\r\n");
const event = (...lines: string[]) =>
  ["BEGIN:VEVENT", "DTSTAMP:20261101T000000Z", ...lines, "END:VEVENT"].join("\r\n");
const times = async (text: string, within = span) =>
  (await read(text, within)).appointments.map(({ name, at_ms }) => [name, at_ms]);

test("an appointment is read with its line; folded lines and marks are put together", async () => {
  const text = calendar(
    event("UID:a", "DTSTART:20261128T091500Z", "SUMMARY:Wren\\, Ald\r\n ous", "DURATION:PT1H"),
  );
  const { appointments } = await read(text);
  expect(appointments).toEqual([{ key: "a", name: "Wren, Aldous", at_ms: at(9, 15), line: 3 }]);
});

// RFC 5545, 3.8.5.3: the wall clock of a repetition stays when daylight saving ends (25 Oct 2026).
test.each([
  ["described in the file", true],
  ["known to the device alone", false],
])("a zone %s keeps the wall clock over the end of daylight saving", async (_, described) => {
  const zone = [
    ...["BEGIN:VTIMEZONE", "TZID:Europe/Berlin"],
    ...["BEGIN:DAYLIGHT", "DTSTART:19810329T020000", "RRULE:FREQ=YEARLY;BYMONTH=3;BYDAY=-1SU"],
    ...["TZOFFSETFROM:+0100", "TZOFFSETTO:+0200", "END:DAYLIGHT"],
    ...["BEGIN:STANDARD", "DTSTART:19961027T030000", "RRULE:FREQ=YEARLY;BYMONTH=10;BYDAY=-1SU"],
    ...["TZOFFSETFROM:+0200", "TZOFFSETTO:+0100", "END:STANDARD", "END:VTIMEZONE"],
  ];
  const start = "DTSTART;TZID=Europe/Berlin:20261017T100000";
  const weekly = event("UID:a", start, "RRULE:FREQ=WEEKLY", "SUMMARY:Wren");
  const text = calendar(...(described ? zone : []), weekly);
  expect(await times(text)).toEqual([["Wren", at(9)]]);
  const october = Date.UTC(2026, 9, 17);
  const summer = { from_ms: october, until_ms: october + 86_400_000 };
  expect(await times(text, summer)).toEqual([["Wren", october + 8 * 3_600_000]]);
});

test("of a repetition, what is excepted or moved does not stand at its old time", async () => {
  const daily = ["DTSTART:20261101T100000Z", "RRULE:FREQ=DAILY", "SUMMARY:Wren"];
  const excepted = event("UID:a", ...daily, "EXDATE:20261128T100000Z");
  expect(await times(calendar(excepted))).toEqual([]);
  const moved = event(
    ...["UID:a", "RECURRENCE-ID:20261128T100000Z", "DTSTART:20261128T140000Z", "SUMMARY:Wren"],
  );
  expect(await times(calendar(event("UID:a", ...daily), moved))).toEqual([["Wren", at(14)]]);
});

test("what is no appointment is told with its line, and the others are read", async () => {
  const { appointments, left_out } = await read(
    calendar(
      event("UID:a", "DTSTART;VALUE=DATE:20261128", "SUMMARY:Closed"),
      event("UID:b", "DTSTART:20261128T100000Z", "SUMMARY:Wren", "STATUS:CANCELLED"),
      event("UID:c", "DTSTART:20261128T100000Z"),
      event("UID:d", "DTSTART;TZID=Nowhere/Here:20261128T100000", "SUMMARY:Ash"),
      event("this is no line", "SUMMARY:Zoë"),
      event("UID:e", "DTSTART:20261128T110000Z", "SUMMARY:Mo"),
    ),
  );
  expect(appointments.map(({ name }) => name)).toEqual(["Mo"]);
  expect(left_out.map(({ line }) => line)).toEqual([3, 9, 16, 21, 27]);
});

test.each([
  ["BEGIN:VCALENDAR\r\nBEGIN:VEVENT\r\nSUMMARY:Wren", /^Line 2: what begins here .*does not end/],
  ["BEGIN:VCALENDAR\r\nEND:VEVENT\r\n", /^Line 2: ends a part/],
  ["name,time\r\n", /There are none/],
  ["name,colour\r\nWren,ash\r\n", /No column of times/],
  ["", /empty/],
  ["PK\u0000\u0003", /not text/],
])("%j is refused, with the place", async (text, words) => {
  await expect(read(text)).rejects.toThrow(words);
});

// RFC 5545, 3.3.5: a time that the clock skips is read by the offset before it, here +01:00 on
// 28 Mar 2027; of one that comes twice the first is meant, here +02:00 on 25 Oct 2026.
test.each([
  ["20270328T023000", Date.UTC(2027, 2, 28, 1, 30)],
  ["20261025T023000", Date.UTC(2026, 9, 25, 0, 30)],
])("%s of a zone that changes its clock then is one instant", async (wall, instant) => {
  const text = calendar(event("UID:a", `DTSTART;TZID=Europe/Berlin:${wall}`, "SUMMARY:Wren"));
  const night = { from_ms: instant - 43_200_000, until_ms: instant + 43_200_000 };
  expect(await times(text, night)).toEqual([["Wren", instant]]);
});

test("a file of more than 8 MB is refused before it is read, whatever it holds", async () => {
  const day = calendar(event("UID:a", "DTSTART:20261128T100000Z", "SUMMARY:Wren"));
  const most = 8 * 1024 * 1024;
  await expect(read(day + " ".repeat(most))).rejects.toThrow("has 9 MB; the most is 8 MB");
  const full = day.replace(
    "VERSION:2.0",
    `VERSION:2.0\r\nX-PAD:${"x".repeat(most - day.length - 8)}`,
  );
  expect(full).toHaveLength(most);
  expect(await times(full)).toEqual([["Wren", at(10)]]);
});

test("a table is read whatever parts its columns; a date in doubt is not guessed", async () => {
  const local = new Date(2026, 10, 28);
  const here = { from_ms: local.getTime(), until_ms: local.getTime() + 86_400_000 };
  const half_two = local.getTime() + 14.5 * 3_600_000;
  const tables = [
    "Client,Time\r\nWren,14:30\r\n",
    "Client;Time\nWren;14:30\n",
    "Client;Date;Time\nWren;28.11.2026;14.30\n",
    "Subject,Start Date,Start Time\nWren,11/28/2026,2:30 PM\n",
    "date\tname\n2026-11-28T14:30\tWren\n",
  ];
  for (const table of tables)
    expect([table, await times(table, here)]).toEqual([table, [["Wren", half_two]]]);
  const { left_out } = await read("name,date,time\n\nWren,03/04/2026,10:00\nAsh,,9:00\n", here);
  expect(left_out.map(({ line }) => line)).toEqual([3, 4]);
});

test("taken twice nothing doubles; moved, undone and brought in again it stands once", async () => {
  await open_records();
  const known = await create("client", { name: "Zoë Marek" });
  const day = (hour: string) =>
    calendar(
      event("UID:z", `DTSTART:20261128T${hour}0000Z`, "SUMMARY:zoe marek – toner"),
      event("UID:n", "DTSTART:20261128T120000Z", "SUMMARY:Ines"),
    );
  const propose = async (hour: string) => proposed((await read(day(hour))).appointments);
  const take = async (hour: string) =>
    take_in((await propose(hour)).map((from) => ({ from, client: from.clients[0]?.id })));
  const notes = () => all("note").value.map(({ text }) => text);
  const arrivals = async (hour: string) => (await propose(hour)).map(({ arrival }) => arrival);

  await take("10");
  expect(all("client").value.map(({ name }) => name)).toEqual(["Zoë Marek", "Ines"]);
  expect(all("service").value[0]?.client).toBe(known);
  expect(notes()).toEqual(["toner"]);
  expect(await arrivals("10")).toEqual(["here", "here"]);
  expect(await arrivals("11")).toEqual(["moved", "here"]);
  await undo();
  expect(all("service").value).toEqual([]);
  expect(await arrivals("11")).toEqual(["deleted", "deleted"]);
  await take("11");
  expect(all("service").value).toHaveLength(2);
  expect(all("zone").value).toHaveLength(2);
  expect(notes()).toEqual(["toner"]);
  expect(Date.parse(all("service").value[0]?.planned_at ?? "")).toBe(at(11));
  await change("service", all("service").value[0]?.id ?? "", { state: "started" });
  expect(await arrivals("10")).toEqual(["under way", "here"]);
});

test("one damaged row is named by its line, with what is wrong, and the rest is read", async () => {
  const whole = event("UID:a", "DTSTART:20261128T100000Z", "SUMMARY:Wren");
  const { appointments, left_out } = await read(
    calendar(
      whole,
      event("UID:b", "DTSTART:garbage", "SUMMARY:Broken One"),
      event("UID:c", "DTSTART:20261328T100000Z", "SUMMARY:Month Thirteen"),
      // Cut in the middle of the file: it does not end before the next begins.
      ["BEGIN:VEVENT", "UID:d", "DTSTART:20261128T120000Z", "SUMMARY:Cut"].join("\r\n"),
      event("UID:e", "DTSTART:20261128T130000Z", "SUMMARY:Mo"),
      event("UID:f", "DTSTART:20261128T140000Z", "RRULE:FREQ=SOMETIMES", "SUMMARY:Odd"),
      "END:VTODO",
    ),
  );
  expect(appointments.map(({ name, line }) => [name, line])).toEqual([
    ["Wren", 3],
    ["Mo", 25],
  ]);
  expect(left_out.map(({ line, words }) => `${line} ${words}`)).toEqual([
    "12 “Broken One”: “garbage” is no time",
    "18 “Month Thirteen”: “20261328T100000Z” is no time",
    "21 what begins here (VEVENT) does not end: the file is cut",
    "31 “Odd”: does not follow the calendar’s own form",
    "38 ends a part (VTODO) that never began",
  ]);
});

test("a file that is cut at its end gives what is whole, and names what is not", async () => {
  const text = calendar(event("UID:a", "DTSTART:20261128T100000Z", "SUMMARY:Wren"));
  const cut = text.replace("END:VCALENDAR", "BEGIN:VEVENT\r\nUID:z\r\nDTSTART:20261");
  const { appointments, left_out } = await read(cut);
  expect(appointments.map(({ name }) => name)).toEqual(["Wren"]);
  expect(left_out.map(({ line, words }) => [line, words.slice(0, 26)])).toEqual([
    [1, "what begins here (VCALENDA"],
    [9, "what begins here (VEVENT) "],
  ]);
});

test("a quote that never closes costs its own line of a table and no other", async () => {
  const table =
    'name,date,time\r\nWren,2026-11-28,10:00\r\n"Ash,2026-11-28,11:00\r\nMo,2026-11-28,12:00\r\n"Ida ""Q"" Quell",2026-11-28,13:00\r\n';
  const local = new Date(2026, 10, 28).getTime();
  const here = { from_ms: local, until_ms: local + 86_400_000 };
  const { appointments, left_out } = await read(table, here);
  expect(appointments.map(({ name, line }) => [name, line])).toEqual([
    ["Wren", 2],
    ["Mo", 4],
    ['Ida "Q" Quell', 5],
  ]);
  expect(left_out).toEqual([{ line: 3, words: "opens a quote that is never closed" }]);
});

// Byte order marks: Unicode 16.0, 23.8. Windows-1252 byte 0xEB is ë (its code page table).
test.each([
  ["UTF-16, little end first", (text: string) => new Uint8Array([0xff, 0xfe, ...utf16(text, 0)])],
  ["UTF-16, big end first", (text: string) => new Uint8Array([0xfe, 0xff, ...utf16(text, 1)])],
  ["UTF-8 with a mark", (text: string) => new TextEncoder().encode(`\ufeff${text}`)],
  ["Windows-1252", (text: string) => Uint8Array.from(text, (letter) => letter.charCodeAt(0))],
])("a table in %s is read", async (_, encoded) => {
  const local = new Date(2026, 10, 28).getTime();
  const here = { from_ms: local, until_ms: local + 86_400_000 };
  const file = new Blob([encoded("name\tdate\ttime\r\nZoë Marek\t2026-11-28\t10:00\r\n")]);
  const { appointments } = await read_days(file, here);
  expect(appointments.map(({ name }) => name)).toEqual(["Zoë Marek"]);
});

function utf16(text: string, big: 0 | 1): number[] {
  return [...text].flatMap((letter) => {
    const code = letter.charCodeAt(0);
    return big ? [code >> 8, code & 0xff] : [code & 0xff, code >> 8];
  });
}

test("of 10,000 appointments those of the day are read, and the others are counted", async () => {
  const events = Array.from({ length: 10_000 }, (_, at) => {
    const start = new Date(Date.UTC(2020, 0, 1, 10) + (at % 2557) * 86_400_000);
    const stamp = start.toISOString().replace(/[-:]|\.000/g, "");
    return event(`UID:${at}`, `DTSTART:${stamp}`, `SUMMARY:Client ${at}`);
  });
  const { appointments, left_out, outside } = await read(calendar(...events));
  // Seven years of days, 28 Nov 2026 is the 2,524th; every 2,557th event falls on it.
  expect(appointments.map(({ key }) => key)).toEqual(["2523", "5080", "7637"]);
  expect([left_out.length, outside]).toEqual([0, 9_997]);
});

test("a repetition without end is read for the days asked for; one of each second is named", async () => {
  const daily = event("UID:a", "DTSTART:20200101T100000Z", "RRULE:FREQ=DAILY", "SUMMARY:Wren");
  expect(await times(calendar(daily))).toEqual([["Wren", at(10)]]);
  const each = event("UID:b", "DTSTART:20200101T100000Z", "RRULE:FREQ=SECONDLY", "SUMMARY:Tick");
  const { appointments, left_out } = await read(calendar(each));
  expect(appointments).toEqual([]);
  expect(left_out[0]?.words).toBe("“Tick”: it is repeated too often to be read to its end");
});

test("a corrected name is looked for again, and what else the title said stays", async () => {
  await open_records();
  await create("client", { name: "Bo Larkspur" });
  const [row] = proposed([{ key: "k", name: "Bo Larkspurr - roots", at_ms: at(10), line: 3 }]);
  if (!row) throw new Error("no row");
  expect(row).toMatchObject({ match: "near", called: "Bo Larkspurr", rest: "roots" });
  const right = called(row, "Bo Larkspur");
  expect(right).toMatchObject({ match: "exact", rest: "roots" });
  expect(right.clients.map(({ name }) => name)).toEqual(["Bo Larkspur"]);
  expect(called(row, "Una Brandt")).toMatchObject({ match: "none", clients: [], rest: "roots" });
});
