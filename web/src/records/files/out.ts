// Everything on this phone as one file.
import { sha256_hex } from "../../outbox/sha256";
import { read_whole, type Whole } from "../../outbox/whole";
import { FORMAT, type Header, to_base64, VERSION } from "./format";
import { seal } from "./sealed";

/** Returns everything on this phone as one file, behind a passphrase if one is given. */
export async function everything_as_file(passphrase = ""): Promise<File> {
  const written_at = new Date().toISOString();
  const packed = await gzip(await lines_of(await read_whole(), written_at));
  const content = passphrase ? await seal(packed, passphrase) : packed;
  const day = written_at.slice(0, 10);
  return new File([content], `basinside ${day}.records`, { type: "application/octet-stream" });
}

async function lines_of(whole: Whole, written_at: string): Promise<Uint8Array<ArrayBuffer>> {
  const { device_id, base, operations, tray, photos } = whole;
  const header: Header = {
    format: FORMAT,
    version: VERSION,
    device_id,
    written_at,
    counts: {
      base: base.length,
      operations: operations.length,
      tray: tray.length,
      photos: photos.length,
    },
  };
  const lines = [
    header,
    ...base.map((row) => ({ base: row })),
    ...operations.map((op) => ({ op })),
    ...tray.map(({ id, row }) => ({ tray: row, id })),
    ...photos.map(({ sha256, type, bytes }) => ({
      photo: to_base64(new Uint8Array(bytes)),
      sha256,
      type,
    })),
  ].map((line) => `${JSON.stringify(line)}\n`);
  const body = new TextEncoder().encode(lines.join(""));
  const trailer = `${JSON.stringify({ sha256: await sha256_hex(body), lines: lines.length })}\n`;
  return new Uint8Array(await new Blob([body, trailer]).arrayBuffer());
}

async function gzip(bytes: Uint8Array<ArrayBuffer>): Promise<Uint8Array<ArrayBuffer>> {
  const packed = new Blob([bytes]).stream().pipeThrough(new CompressionStream("gzip"));
  return new Uint8Array(await new Response(packed).arrayBuffer());
}
