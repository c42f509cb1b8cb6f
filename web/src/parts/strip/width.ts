// How wide an element is laid out.
import { useEffect, useState } from "preact/hooks";

/** Returns the width of an element in whole pixels, kept up to date; 0 before it is measured. */
export function use_width(frame: { current: HTMLElement | null }): number {
  const [width, setWidth] = useState(0);
  useEffect(() => {
    const element = frame.current;
    if (!element) return;
    const watch = new ResizeObserver(() => setWidth(Math.floor(element.clientWidth)));
    watch.observe(element);
    return () => watch.disconnect();
  }, [frame]);
  return width;
}
