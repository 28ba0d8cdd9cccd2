import { useEffect, useState } from 'preact/hooks';
import { placesOf } from '../job/address.js';

/** What the page's address says after its screen; follows it. */
export function usePlaces(): readonly string[] {
  const [hash, set] = useState(location.hash);
  useEffect(() => {
    const turn = () => set(location.hash);
    turn();
    addEventListener('hashchange', turn);
    return () => removeEventListener('hashchange', turn);
  }, []);
  return placesOf(hash);
}
