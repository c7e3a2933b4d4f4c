// A job in an address: `#job=` and its text, or `#jobz=` and the same made smaller (RFC 1950), both in
// base64url (RFC 4648, section 5). The page itself makes links of the first kind; a packet's code those
// of either (job/job_text/carried.h).

const kPlain = "#job=";
const kPacked = "#jobz=";
/** No job is larger (input/node.h); what unpacks to more is none. */
const kMostBytes = 256 * 1024;

export function fragmentOf(text) {
  const letters = Array.from(new TextEncoder().encode(text), (byte) => String.fromCharCode(byte)).join("");
  return kPlain + btoa(letters).replace(/\+/g, "-").replace(/\//g, "_").replace(/=+$/, "");
}

const bytesOf = (letters) => Uint8Array.from(atob(letters.replace(/-/g, "+").replace(/_/g, "/")), (letter) => letter.charCodeAt(0));

async function unpacked(bytes) {
  const chunks = [];
  let size = 0;
  for (const reader = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate")).getReader(); ;) {
    const { done, value } = await reader.read();
    if (done) return new Uint8Array(await new Blob(chunks).arrayBuffer());
    chunks.push(value);
    size += value.length;
    if (size > kMostBytes) throw new RangeError("too long");
  }
}

/** The text in `fragment`; null where it holds no job, undefined where the link is not whole. */
export async function textOf(fragment) {
  const kind = [kPlain, kPacked].find((one) => fragment.startsWith(one));
  if (!kind) return null;
  try {
    const bytes = bytesOf(fragment.slice(kind.length));
    return new TextDecoder("utf-8", { fatal: true }).decode(kind === kPacked ? await unpacked(bytes) : bytes);
  } catch {
    return undefined;
  }
}
