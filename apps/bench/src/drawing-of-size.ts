/** A DXF of AC1015 with this many entities, half of them lines, the rest arcs, circles and polylines of 8 corners. */
export function drawingOfSize(entities: number): string {
  const out: string[] = [];
  let lines: string[] = [];
  const put = (...groups: readonly (string | number)[]): void => {
    for (let i = 0; i < groups.length; i += 2)
      lines.push(String(groups[i]).padStart(3, ' '), String(groups[i + 1]));
  };
  let seed = 1;
  // Numbers of 15 to 17 digits, as programs write them that do not round.
  const place = (): number => {
    seed = (Math.imul(seed, 1_664_525) + 1_013_904_223) >>> 0;
    return (seed % 2_000_000) / 1000 - 1000;
  };
  put(0, 'SECTION', 2, 'HEADER', 9, '$ACADVER', 1, 'AC1015', 9, '$INSUNITS', 70, 4, 0, 'ENDSEC');
  put(0, 'SECTION', 2, 'ENTITIES');
  for (let i = 0; i < entities; i++) {
    const begin = (type: string, subclass: string): void =>
      put(
        0,
        type,
        5,
        (0x100 + i).toString(16).toUpperCase(),
        330,
        '1F',
        100,
        'AcDbEntity',
        8,
        `L${i % 7}`,
        100,
        subclass,
      );
    const kind = i % 10;
    if (kind < 5) {
      begin('LINE', 'AcDbLine');
      put(10, place(), 20, place(), 30, '0.0', 11, place(), 21, place(), 31, '0.0');
    } else if (kind < 7) {
      begin('ARC', 'AcDbCircle');
      put(
        10,
        place(),
        20,
        place(),
        30,
        '0.0',
        40,
        5 + (i % 50),
        100,
        'AcDbArc',
        50,
        i % 360,
        51,
        (i * 7 + 90) % 360,
      );
    } else if (kind === 7) {
      begin('CIRCLE', 'AcDbCircle');
      put(10, place(), 20, place(), 30, '0.0', 40, 2 + (i % 20));
    } else {
      begin('LWPOLYLINE', 'AcDbPolyline');
      put(90, 8, 70, 1, 43, '0.0');
      for (let k = 0; k < 8; k++) {
        put(10, place(), 20, place());
        if (k % 4 === 1) put(42, 0.41421356);
      }
    }
    if (lines.length > 100_000) {
      out.push(`${lines.join('\n')}\n`);
      lines = [];
    }
  }
  put(0, 'ENDSEC', 0, 'EOF');
  out.push(`${lines.join('\n')}\n`);
  return out.join('');
}
