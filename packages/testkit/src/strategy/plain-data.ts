/** What of some data does not survive being sent as JSON, by its path; null when all does. */
export function notPlain(value: unknown, path = 'layout'): string | null {
  if (value === null || typeof value === 'string' || typeof value === 'boolean') return null;
  if (typeof value === 'number') return Number.isFinite(value) ? null : `${path} is ${value}`;
  if (typeof value !== 'object') return `${path} is ${typeof value}`;
  const proto = Object.getPrototypeOf(value);
  if (!Array.isArray(value) && proto !== Object.prototype && proto !== null)
    return `${path} is no plain object`;
  for (const [key, inner] of Object.entries(value)) {
    const found = notPlain(inner, `${path}.${key}`);
    if (found !== null) return found;
  }
  return null;
}
