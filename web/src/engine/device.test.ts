// Waiting for the engine on this device: what ends the wait, and that nothing else does.
import { expect, test } from "vitest";
import { type Device, DeviceFailed, device, until_free } from "./device";

const LOADING = {
  state: "loading",
  bytes: 0,
  of_bytes: 1,
  fetches: true,
  damaged: false,
} satisfies Device;
const READY: Device = { state: "ready", engine_version: "1", kept: true };

/** Begins to wait while the engine loads; `how` says how the wait ended. */
function waiting(aborted = new AbortController()) {
  device.value = LOADING;
  const wait = { how: "waits" as unknown, aborted };
  until_free(aborted.signal).then(
    () => {
      wait.how = "free";
    },
    (why: unknown) => {
      wait.how = why;
    },
  );
  return wait;
}

const settled = () => new Promise((done) => setTimeout(done));

test("an engine that is ready ends the wait, and more of its download does not", async () => {
  const wait = waiting();
  device.value = { ...LOADING, bytes: 1 };
  await settled();
  expect(wait.how).toBe("waits");
  device.value = READY;
  await settled();
  expect(wait.how).toBe("free");
});

test("an engine that is ready already is not waited for", async () => {
  device.value = READY;
  await expect(until_free(new AbortController().signal)).resolves.toBeUndefined();
});

test.each([
  { state: "failed", why: "It broke.", by_itself: false } as const,
  { state: "resting", why: "It was ended." } as const,
])("an engine that is $state ends the wait with its reason", async (now) => {
  const wait = waiting();
  device.value = now;
  await settled();
  expect(wait.how).toBeInstanceOf(DeviceFailed);
  expect(wait.how).toMatchObject({ message: now.why });
});

test("who gives up hears the own reason, before and during the wait", async () => {
  const wait = waiting();
  wait.aborted.abort("no longer asked");
  await settled();
  expect(wait.how).toBe("no longer asked");
  device.value = READY;
  await expect(until_free(wait.aborted.signal)).rejects.toBe("no longer asked");
});
