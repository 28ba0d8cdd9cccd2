/** A corner of a ring and the bulge of the segment that leaves it. mm */
interface Corner {
  readonly x: number;
  readonly y: number;
  readonly bulge: number;
}

const figure = (v: number): string => String(+v.toFixed(3));

/** The command that draws one segment to a point, Y turned down: a line, or an arc of the bulge's radius. */
function segmentTo(
  from: Corner,
  to: { readonly x: number; readonly y: number },
  dx: number,
  top: number,
): string {
  const end = `${figure(to.x - dx)} ${figure(top - to.y)}`;
  const b = from.bulge;
  if (Math.abs(b) < 1e-9) return `L${end}`;
  const chord = Math.hypot(to.x - from.x, to.y - from.y);
  const radius = figure((chord * (1 + b * b)) / (4 * Math.abs(b)));
  return `A${radius} ${radius} 0 ${Math.abs(b) > 1 ? 1 : 0} ${b > 0 ? 0 : 1} ${end}`;
}

/** A ring as SVG path data; Y up becomes down from `top`, X counts from `left`. mm */
export function ringPath(vertices: readonly Corner[], left = 0, top = 0): string {
  const [first] = vertices;
  if (!first) return '';
  const steps = vertices.map((v, i) => segmentTo(v, vertices[(i + 1) % vertices.length]!, left, top));
  return `M${figure(first.x - left)} ${figure(top - first.y)}${steps.join('')}Z`;
}

/** One segment of a ring as SVG path data, in the same frame. mm */
export function edgePath(vertices: readonly Corner[], index: number, left = 0, top = 0): string {
  const v = vertices[index]!;
  return `M${figure(v.x - left)} ${figure(top - v.y)}${segmentTo(v, vertices[(index + 1) % vertices.length]!, left, top)}`;
}

/** A circle as SVG path data, in the same frame. mm */
export const circlePath = (x: number, y: number, radius: number, left = 0, top = 0): string =>
  ringPath(
    [
      { x: x + radius, y, bulge: 1 },
      { x: x - radius, y, bulge: 1 },
    ],
    left,
    top,
  );
