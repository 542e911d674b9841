// Lines along which a field of cells has a value (marching squares; Lorensen and Cline 1987 in two
// dimensions). Points are in cells: 0 is the middle of the first. Where a cell has no value there
// is no line.

type Point = readonly [x: number, y: number];

/** Corners of a square in turn, from the least x and y. */
const CORNERS: readonly Point[] = [
  [0, 0],
  [1, 0],
  [1, 1],
  [0, 1],
];

/** The lines of `level`, each as x, y pairs; closed ones end where they begin. */
export function contour(values: ArrayLike<number>, nx: number, ny: number, level: number): readonly Float64Array[] {
  /** Segments by the edge they begin and end on; an edge has one number. */
  const segments: (readonly [from: number, to: number])[] = [];
  const points = new Map<number, Point>();
  const value = (x: number, y: number): number => values[y * nx + x] ?? Number.NaN;
  for (let y = 0; y + 1 < ny; y++) {
    for (let x = 0; x + 1 < nx; x++) {
      const at = CORNERS.map(([i, j]) => value(x + i, y + j));
      if (!at.every(Number.isFinite)) continue;
      const crossed: number[] = [];
      for (let side = 0; side < 4; side++) {
        const next = (side + 1) % 4;
        const [a, b] = [at[side] ?? 0, at[next] ?? 0];
        if (a > level === b > level) continue;
        const [ai = 0, aj = 0] = CORNERS[side] ?? [];
        const [bi = 0, bj = 0] = CORNERS[next] ?? [];
        const share = (level - a) / (b - a);
        // Edges along x have even numbers, those along y odd ones.
        const edge = 2 * ((y + Math.min(aj, bj)) * nx + x + Math.min(ai, bi)) + (ai === bi ? 1 : 0);
        points.set(edge, [x + ai + (bi - ai) * share, y + aj + (bj - aj) * share]);
        crossed.push(edge);
      }
      const [p, q, r, s] = crossed;
      if (p === undefined || q === undefined) continue;
      if (r === undefined || s === undefined) {
        segments.push([p, q]);
        continue;
      }
      // A saddle: the mean says whether the first corner is joined with the one opposite.
      const mean = at.reduce((sum, one) => sum + one, 0) / 4;
      if (mean > level === (at[0] ?? 0) > level) segments.push([p, q], [r, s]);
      else segments.push([p, s], [q, r]);
    }
  }
  return link(segments, points);
}

/** Segments that share an edge become one line. */
function link(segments: readonly (readonly [number, number])[], points: ReadonlyMap<number, Point>): readonly Float64Array[] {
  const at = new Map<number, number[]>();
  segments.forEach((segment, index) => {
    for (const edge of segment) at.set(edge, [...(at.get(edge) ?? []), index]);
  });
  const used = new Uint8Array(segments.length);
  const lines: Float64Array[] = [];
  /** Follows unused segments from an edge to where they end. */
  const follow = (edge: number): number[] => {
    const way = [edge];
    for (;;) {
      const end: number = way[way.length - 1] ?? edge;
      const next = at.get(end)?.find((index) => used[index] === 0);
      if (next === undefined) return way;
      used[next] = 1;
      const [a, b] = segments[next] ?? [end, end];
      way.push(a === end ? b : a);
    }
  };
  segments.forEach(([from], index) => {
    if (used[index] === 1) return;
    const forth = follow(from);
    const back = follow(from).slice(1).reverse();
    const way = [...back, ...forth];
    lines.push(Float64Array.from(way.flatMap((edge) => points.get(edge) ?? [])));
  });
  return lines;
}
