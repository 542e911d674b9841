// The page's own maps without the page around them, for the benchmark.

// @ts-expect-error Vite finds the TypeScript module.
import { runMap, warmMap } from '../../../www/src/core/map';

Object.assign(window, { maps: { runMap, warmMap } });
