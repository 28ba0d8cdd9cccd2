import { useEffect, useState } from 'preact/hooks';

/** So many rows are drawn at a time. */
const AT_ONCE = 24;

/** How many of so many rows are drawn by now: a few first, more with every frame, so that a long list holds nothing up. */
export function useGrowing(total: number, least = 0): number {
  const [count, set] = useState(AT_ONCE);
  useEffect(() => {
    if (count >= total) return;
    const frame = requestAnimationFrame(() => set((n) => n + AT_ONCE));
    return () => cancelAnimationFrame(frame);
  }, [count, total]);
  return Math.min(total, Math.max(count, least));
}
