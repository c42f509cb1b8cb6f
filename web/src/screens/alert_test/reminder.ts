// Hands a reminder over to the phone's own calendar.
import { hand_over } from "../../device/hand_over";
import { type AlertTest, due_ms } from "../../salon/alert_tests/alert_tests";
import { reminder_file } from "../../salon/alert_tests/reminder";

/** Offers the calendar file of a test. */
export async function hand_over_reminder(test: AlertTest, client: string): Promise<void> {
  const title = `Read the alert test: ${client || "client"}, ${test.line ?? ""}`;
  const text = reminder_file(test.id, title, due_ms(test), Date.now());
  await hand_over(new File([text], "alert-test.ics", { type: "text/calendar" }));
}
