import type { ProposedClearance } from '@haunch/gauge';
import { fitCell, USUAL_FITS } from '../fit-table.js';

const counted = (n: number, one: string): string => `${n} ${one}${n === 1 ? '' : 's'}`;
const sightings = ({ ladders, joints }: ProposedClearance): string =>
  `from ${[ladders > 0 && counted(ladders, 'ladder'), joints > 0 && counted(joints, 'joint')].filter(Boolean).join(' and ')}`;
const three = (n: number): number => +n.toFixed(3);

/** What a day book proposes for one material and family, in a sentence. */
export const proposalInWords = (p: ProposedClearance): string =>
  `${p.material}: ${p.family} ${p.proposed.toFixed(3)} ± ${(2 * p.u).toFixed(3)} mm, ${sightings(p)}; the trade uses ${p.trade.toFixed(3)} mm, drawn towards it by ${Math.round(p.shrinkage * 100)} %`;

/** The text of a `haunch-fits` file of what is proposed: the usual windows, moved along with the clearance. */
export function proposedTable(proposals: readonly ProposedClearance[]): string {
  const rows = [...new Set(proposals.map((p) => p.material))].map((material) => ({
    material,
    ...Object.fromEntries(
      proposals
        .filter((p) => p.material === material)
        .map((p) => {
          const usual = fitCell(USUAL_FITS, p.family, material, null);
          const moved = p.proposed - usual.wanted;
          return [
            p.family,
            {
              wanted: three(p.proposed),
              window: usual.window.map((w) => three(w + moved)),
              source: 'measured here',
              note: `± ${(2 * p.u).toFixed(3)} mm, ${sightings(p)}`,
            },
          ];
        }),
    ),
  }));
  return `${JSON.stringify({ format: 'haunch-fits', version: 1, rows }, null, 1)}\n`;
}
