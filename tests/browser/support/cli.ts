// The command line, for what page and program must say alike.

import { execFileSync } from 'node:child_process';
import path from 'node:path';

const root = path.resolve(import.meta.dirname, '../../..');
let program: string | undefined;

function find(): string {
  const given = process.env['KICKSTILL_CLI'];
  if (given !== undefined && given !== '') return given;
  execFileSync('cargo', ['build', '--quiet', '--package', 'kickstill-cli', '--bin', 'kickstill'], { cwd: root, stdio: 'inherit' });
  return path.join(path.resolve(root, process.env['CARGO_TARGET_DIR'] ?? 'target'), 'debug/kickstill');
}

/** What the program prints. */
export function kickstill(...args: readonly string[]): string {
  program ??= find();
  return execFileSync(program, args, { encoding: 'utf8', maxBuffer: 20_000_000 });
}
