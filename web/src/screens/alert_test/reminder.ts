// Hands a reminder over to the phone: as a file it shares, or one that is downloaded.
import { type AlertTest, due_ms } from "../../salon/alert_tests/alert_tests";
import { reminder_file } from "../../salon/alert_tests/reminder";

const FORGET_MS = 60_000;

/** Offers the calendar file of a test; what a person turns down is no fault. */
export async function hand_over_reminder(test: AlertTest, client: string): Promise<void> {
  const title = `Read the alert test: ${client || "client"}, ${test.line ?? ""}`;
  const text = reminder_file(test.id, title, due_ms(test), Date.now());
  const file = new File([text], "alert-test.ics", { type: "text/calendar" });
  if (navigator.canShare?.({ files: [file] })) {
    try {
      await navigator.share({ files: [file] });
      return;
    } catch (why) {
      if (why instanceof DOMException && why.name === "AbortError") return;
    }
  }
  const link = document.createElement("a");
  link.href = URL.createObjectURL(file);
  link.download = file.name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), FORGET_MS);
}
