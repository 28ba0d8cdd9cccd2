import { describe, expect, it } from 'vitest';
import { assemblyAddress, jointAddress, lineAddress, placesOf } from './address.js';
import { screenOf } from './screen-name.js';

describe('addresses', () => {
  it('lead to their screen and say the place, whatever is in a name', () => {
    for (const [hash, screen, places] of [
      [lineAddress('sheet 1/a.ngc', 12), 'program', ['sheet 1/a.ngc', '12']],
      [jointAddress('M-EL/2-S1'), 'proof', ['M-EL/2-S1']],
      [assemblyAddress('ä#'), 'assembly', ['ä#']],
    ] as const) {
      expect(screenOf(hash)).toBe(screen);
      expect(placesOf(hash)).toEqual(places);
    }
  });

  it('that are broken say what can be read', () => expect(placesOf('#proof/%E0%A4%A')).toEqual(['%E0%A4%A']));
});
