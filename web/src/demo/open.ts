// The way into the demo day; what opens it is loaded on asking.
import { useState } from "preact/hooks";

/** Returns why the demo day did not open, empty so far, and what opens it. */
export function use_demo(): [string, () => void] {
  const [said, put] = useState("");
  const open = async () => {
    const demo = await import("./demo");
    await demo.open_demo();
    put(demo.demo_fault.value);
  };
  return [said, () => void open()];
}
