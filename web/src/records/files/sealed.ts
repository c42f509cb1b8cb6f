// Locks a file with a passphrase: AES-GCM (NIST SP 800-38D) under a key that PBKDF2 makes.
import { BadFile, from_base64, MOST_FILE_BYTES, to_base64 } from "./format";

const SEALED = "basinside sealed records";
const SEALED_VERSION = 1;
// OWASP Password Storage Cheat Sheet, PBKDF2-HMAC-SHA256: 600,000 rounds or more.
const ROUNDS = 600_000;
const MOST_ROUNDS = 10_000_000;

interface Seal {
  format: string;
  version: number;
  rounds: number;
  salt: string;
  iv: string;
}

/** Returns the bytes encrypted, behind a line that says how. */
export async function seal(bytes: BufferSource, passphrase: string): Promise<Blob> {
  const salt = crypto.getRandomValues(new Uint8Array(16));
  const iv = crypto.getRandomValues(new Uint8Array(12));
  const how: Seal = {
    format: SEALED,
    version: SEALED_VERSION,
    rounds: ROUNDS,
    salt: to_base64(salt),
    iv: to_base64(iv),
  };
  const line = new TextEncoder().encode(`${JSON.stringify(how)}\n`);
  const key = await key_of(passphrase, salt, ROUNDS, "encrypt");
  const hidden = await crypto.subtle.encrypt(
    { name: "AES-GCM", iv, additionalData: line },
    key,
    bytes,
  );
  return new Blob([line, hidden]);
}

/** Returns a file's packed lines, unlocked by its passphrase if it has one. Throws BadFile. */
export async function read_packed(
  file: Blob,
  passphrase: string,
): Promise<Uint8Array<ArrayBuffer>> {
  if (file.size > MOST_FILE_BYTES) {
    const mb = Math.ceil(file.size / 1024 / 1024);
    throw new BadFile(
      `This file has ${mb} MB, and at most ${MOST_FILE_BYTES / 1024 / 1024} MB can be imported. Is it the file that Basinside saved?`,
    );
  }
  const bytes = new Uint8Array(await file.arrayBuffer());
  return is_sealed(bytes) ? unseal(bytes, passphrase) : bytes;
}

/** Returns whether a file stands behind a passphrase. */
function is_sealed(file: Uint8Array): boolean {
  return new TextDecoder().decode(file.subarray(0, 64)).startsWith(`{"format":"${SEALED}"`);
}

/** Returns the bytes that were sealed; throws BadFile for another passphrase or a changed file. */
async function unseal(
  file: Uint8Array<ArrayBuffer>,
  passphrase: string,
): Promise<Uint8Array<ArrayBuffer>> {
  const end = file.subarray(0, 1024).indexOf(0x0a);
  const line = file.subarray(0, end + 1);
  const how = read_seal(new TextDecoder().decode(line));
  if (!passphrase) {
    throw new BadFile("This file has a passphrase. Type it, then import the file again.");
  }
  try {
    const { salt, iv } = { salt: from_base64(how.salt), iv: from_base64(how.iv) };
    const key = await key_of(passphrase, salt, how.rounds, "decrypt");
    const hidden = file.subarray(end + 1);
    return new Uint8Array(
      await crypto.subtle.decrypt({ name: "AES-GCM", iv, additionalData: line }, key, hidden),
    );
  } catch {
    throw new BadFile(
      "The passphrase is wrong, or the file was changed or cut. Type the passphrase again. If it is right, save the file again.",
    );
  }
}

function read_seal(line: string): Seal {
  let how: Partial<Seal>;
  try {
    how = JSON.parse(line);
  } catch {
    throw new BadFile("The first line of this file is cut. Save it again where it came from.");
  }
  if (how.version !== SEALED_VERSION) {
    throw new BadFile(
      `This file's lock is of version ${how.version}, and this Basinside opens version ${SEALED_VERSION}. Update Basinside, then import it again.`,
    );
  }
  const { rounds, salt, iv } = how;
  const sound = typeof salt === "string" && typeof iv === "string" && Number.isInteger(rounds);
  if (!sound || Number(rounds) < 1 || Number(rounds) > MOST_ROUNDS) {
    throw new BadFile(
      "Line 1 of this file does not say how it was locked. Save it again where it came from.",
    );
  }
  return how as Seal;
}

async function key_of(
  passphrase: string,
  salt: BufferSource,
  iterations: number,
  use: "encrypt" | "decrypt",
): Promise<CryptoKey> {
  // The same letters can be typed as other code points; NFKC makes them one.
  const bytes = new TextEncoder().encode(passphrase.normalize("NFKC"));
  const typed = await crypto.subtle.importKey("raw", bytes, "PBKDF2", false, ["deriveKey"]);
  const how = { name: "PBKDF2", hash: "SHA-256", salt, iterations };
  return crypto.subtle.deriveKey(how, typed, { name: "AES-GCM", length: 256 }, false, [use]);
}
