import {
  type Ring,
  rectangleRing,
  ringBounds,
  ringSegments,
  subtractRings,
  unionRings,
} from '@haunch/geometry';
import { expect, it } from 'vitest';
import type { BuilderRelief, BuiltJoint, BuiltSide } from './built-joint.js';
import { crossLap, halfNotch } from './cross-lap.js';
import { fingerRun } from './finger-run.js';
import { housing } from './housing.js';
import { mortise } from './mortise.js';

const RELIEF: BuilderRelief = { radius: 3, surplus: 0.1, form: 'diagonal' };
const fits = { clearance: 0.1, relief: RELIEF };

/** Each joint with the blanks of its two plates, in the joint's coordinates. */
const SHOWN: readonly (readonly [string, BuiltJoint, Ring, Ring])[] = [
  [
    'cross-lap',
    crossLap({ thickness: [18, 18], overlap: 120, ...fits }),
    rectangleRing(-60, 0, 60, 120),
    rectangleRing(-60, 0, 60, 120),
  ],
  [
    'half notch',
    halfNotch({ thickness: [18, 18], overlap: 60, ...fits }),
    rectangleRing(-60, -60, 60, 60),
    rectangleRing(-60, 0, 60, 120),
  ],
  [
    'through mortise and tenon, 6 mm proud',
    mortise({ thickness: [18, 18], width: 60, proud: 6, ends: 0.2, ...fits }),
    rectangleRing(-60, -60, 60, 60),
    rectangleRing(-60, -90, 60, 0),
  ],
  [
    'stopped housing',
    housing({ thickness: [18, 18], depth: 8, length: 90, ends: 0.2, ...fits }),
    rectangleRing(-60, -60, 60, 60),
    rectangleRing(-60, -90, 60, 0),
  ],
  [
    'finger run of five',
    fingerRun({ thickness: [18, 18], length: 120, count: 5, ends: 0.2, relief: RELIEF }),
    rectangleRing(0, 0, 120, 100),
    rectangleRing(0, 0, 120, 100),
  ],
];

const two = (v: number): string => String(+v.toFixed(2));

function pathOf(r: Ring): string {
  const segments = ringSegments(r);
  const start = segments[0]!.from;
  const steps = segments.map((s) =>
    s.kind === 'line'
      ? `L${two(s.to.x)} ${two(-s.to.y)}`
      : `A${two(s.radius)} ${two(s.radius)} 0 ${Math.abs(s.sweep) > Math.PI ? 1 : 0} ${s.sweep > 0 ? 0 : 1} ${two(s.to.x)} ${two(-s.to.y)}`,
  );
  return `M${two(start.x)} ${two(-start.y)}${steps.join('')}Z`;
}

/** A plate as its builder leaves it, centred in a cell of 170 × 170. */
function plate(blank: Ring, side: BuiltSide, x: number, y: number): string {
  const regions = subtractRings(
    unionRings([blank, ...side.add]).flatMap((r) => [r.outer]),
    side.cut,
  );
  const box = ringBounds(regions[0]!.outer);
  const at = `translate(${two(x + 85 - (box.minX + box.maxX) / 2)} ${two(y + 85 + (box.minY + box.maxY) / 2)})`;
  const body = regions.map((r) => [r.outer, ...r.holes].map(pathOf).join('')).join('');
  const recess = side.recess.map((r) => `<path d="${pathOf(r.ring)}" class="recess"/>`).join('');
  return `<g transform="${at}"><path d="${body}" class="plate"/>${recess}</g>`;
}

it('draws every joint for the page on joints', async () => {
  const rows = SHOWN.map(([title, joint, a, b], i) => {
    const y = 30 + i * 200;
    return `<text x="10" y="${y - 8}">${title}</text>\n${plate(a, joint.slot, 0, y)}\n${plate(b, joint.entering, 180, y)}`;
  });
  const height = 30 + SHOWN.length * 200;
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 360 ${height}" role="img" aria-label="Joints made by the builders: left the slotted plate, right the one that enters" font-family="sans-serif" font-size="13"><style>.plate{fill:#e8dcc4;stroke:#2b2821;stroke-width:.8;fill-rule:evenodd}.recess{fill:#cdbb97;stroke:#2b2821;stroke-width:.8;stroke-dasharray:4 2}</style>
<rect width="360" height="${height}" fill="#fffdf8"/>
${rows.join('\n')}
</svg>
`;
  expect(svg).not.toContain('NaN');
  await expect(svg).toMatchFileSnapshot('../../../../docs/pictures/joints.svg');
});
