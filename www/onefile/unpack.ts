// Unpacks in the page what plugin.ts packed: base64 of LZMA's stand-alone form. Takes the decoder alone of lzma1, whose
// entry brings its encoder along.

import { Decoder } from 'lzma1/decoder';
import { InputBuffer, OutputBuffer } from 'lzma1/streams';

export function unpack(text: string): Uint8Array {
  const characters = atob(text);
  const bytes = new Uint8Array(characters.length);
  for (let i = 0; i < bytes.length; i++) bytes[i] = characters.charCodeAt(i);
  // The size of what is inside stands behind five bytes of settings.
  const output = new OutputBuffer(new DataView(bytes.buffer).getUint32(5, true));
  new Decoder().decompress(new InputBuffer(bytes), output);
  return output.toArray();
}
