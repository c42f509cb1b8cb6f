// When a download that broke off is tried again.
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { tries_again } from "./tries_again";

const MINUTE_MS = 60_000;
let page: EventTarget & { hidden: boolean };
let network: EventTarget;

beforeEach(() => {
  vi.useFakeTimers();
  page = Object.assign(new EventTarget(), { hidden: false });
  network = new EventTarget();
  vi.stubGlobal("document", page);
  vi.stubGlobal("addEventListener", network.addEventListener.bind(network));
});

afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

test("after 1, 2, 5 and then each 15 minutes, and not a second earlier", () => {
  const again = vi.fn();
  const next = tries_again(again);
  let tries = 0;
  for (const minutes of [1, 2, 5, 15, 15]) {
    next.plan();
    vi.advanceTimersByTime(minutes * MINUTE_MS - 1);
    expect(again).toHaveBeenCalledTimes(tries);
    vi.advanceTimersByTime(1);
    tries += 1;
    expect(again).toHaveBeenCalledTimes(tries);
  }
});

test("a try that succeeds begins the waits again", () => {
  const again = vi.fn();
  const next = tries_again(again);
  next.plan();
  next.plan();
  next.succeeded();
  next.plan();
  vi.advanceTimersByTime(MINUTE_MS);
  expect(again).toHaveBeenCalledTimes(1);
});

test("at once when the network is back or the page is shown, where a try is due", () => {
  const again = vi.fn();
  const next = tries_again(again);
  network.dispatchEvent(new Event("online"));
  expect(again).not.toHaveBeenCalled();
  next.plan();
  page.hidden = true;
  page.dispatchEvent(new Event("visibilitychange"));
  expect(again).not.toHaveBeenCalled();
  page.hidden = false;
  page.dispatchEvent(new Event("visibilitychange"));
  expect(again).toHaveBeenCalledTimes(1);
  next.plan();
  network.dispatchEvent(new Event("online"));
  expect(again).toHaveBeenCalledTimes(2);
  vi.advanceTimersByTime(60 * MINUTE_MS);
  expect(again).toHaveBeenCalledTimes(2);
});
