// Says how to install the page as an app on this device, since browsers differ.

/** What the page runs on, as far as the way to install it goes. */
type System = "ios" | "android" | "desktop";

/** Returns the system that a browser names. */
export function system_of(user_agent: string, touch_points: number): System {
  if (/iPhone|iPad|iPod/.test(user_agent)) return "ios";
  // A tablet of the same maker asks for desktop pages, and no desktop of theirs has a touch screen.
  if (/Macintosh/.test(user_agent) && touch_points > 1) return "ios";
  return /Android/.test(user_agent) ? "android" : "desktop";
}

/** Returns how to install the page by hand, step by step. */
export function steps_of(system: System): readonly string[] {
  switch (system) {
    case "ios":
      return [
        "Open this page in Safari.",
        "Tap Share (the square with the arrow), then “Add to Home Screen”.",
        "Then open Basinside from its picture on the home screen.",
      ];
    case "android":
      return [
        "Open the browser's menu (the three dots).",
        "Tap “Install app”, or “Add to home screen”.",
        "Then open Basinside from its picture.",
      ];
    case "desktop":
      return [
        "Tap the install sign beside the address, or “Install” or “Add to Dock” in the browser’s menu.",
        "Without either, the page still opens offline as a tab.",
      ];
  }
}

/** Returns why to install, and why before entering anything; each as one sentence. */
export function reasons_of(system: System): readonly string[] {
  switch (system) {
    case "ios":
      return [
        "Do it before you enter anything. The app on the home screen does not get this tab’s entries.",
        "In a tab, Safari deletes everything after seven days of use without this page. The app counts its own days.",
      ];
    case "android":
      return [
        "A phone short of space keeps an installed app’s storage longer.",
        "It opens full screen, without the browser’s bars.",
      ];
    case "desktop":
      return [
        "A full disk keeps an installed app’s storage longer.",
        "It has its own window, so it does not close with the tabs.",
      ];
  }
}
