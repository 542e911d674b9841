import type { InputBuffer, OutputBuffer } from './streams';

export class Decoder {
  /** Throws where `input` is not of LZMA's stand-alone form. */
  decompress(input: InputBuffer, output: OutputBuffer): void;
}
