// Text to bytes, as io/write/page/packed_text.cpp writes it: how many bytes were deflated, a space, then five
// characters for each four of them.

const space = 32;

/** The value of each character; 255 where it is no digit. */
const valueOf = new Uint8Array(128).fill(255);
{
  let value = 0;
  for (let c = "(".charCodeAt(0); c <= "~".charCodeAt(0); ++c) {
    if (c !== "<".charCodeAt(0) && c !== "\\".charCodeAt(0)) valueOf[c] = value++;
  }
}

export async function unpackText(text: string): Promise<Uint8Array<ArrayBuffer>> {
  const stream = new Blob([bytesOf(text)])
    .stream()
    .pipeThrough(new DecompressionStream("deflate-raw"));
  return new Uint8Array(await new Response(stream).arrayBuffer());
}

function bytesOf(text: string): Uint8Array<ArrayBuffer> {
  const characters = new TextEncoder().encode(text);
  const digitsFrom = characters.indexOf(space) + 1;
  const count = Number(text.slice(0, digitsFrom));
  const groups = Math.ceil(count / 4);
  if (!(count >= 0) || characters.length < digitsFrom + 5 * groups) {
    throw new Error("the page's mesh data is cut short");
  }
  const bytes = new DataView(new ArrayBuffer(4 * groups));
  for (let group = 0; group < groups; ++group) {
    let four = 0;
    for (let k = 0; k < 5; ++k) {
      const value = valueOf[characters[digitsFrom + 5 * group + k] as number] as number;
      if (!(value < 85)) throw new Error("the page's mesh data is damaged");
      four = four * 85 + value;
    }
    bytes.setUint32(4 * group, four);
  }
  return new Uint8Array(bytes.buffer, 0, count);
}
