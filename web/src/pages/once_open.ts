// What the page does for the browser around it, once all that one sees is there.
import { effect } from "@preact/signals";
import { settings } from "../device/settings";
import { in_demo } from "../outbox/world";
import { check_types, open_records } from "../records/read";
import { take_launches } from "./launched";

// The browser's own bars go with the page, also where the device says otherwise.
effect(() => {
  const { theme } = settings.value;
  for (const tag of document.querySelectorAll<HTMLMetaElement>("meta[data-of]")) {
    const { of } = tag.dataset;
    if (theme === "device") tag.media = `(prefers-color-scheme: ${of})`;
    else tag.media = of === theme ? "all" : "not all";
  }
});

// What the app is opened with is about the salon's own records.
if (!in_demo) take_launches();

// What an older app or another program wrote may not be of its type.
void open_records()
  .then(check_types)
  .catch(() => undefined);
