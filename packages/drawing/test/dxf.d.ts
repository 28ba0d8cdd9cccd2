declare module 'dxf' {
  export interface ParsedDxf {
    entities: {
      type: string;
      layer: string;
      closed?: boolean;
      vertices?: { x: number; y: number; bulge?: number }[];
      x?: number;
      y?: number;
      r?: number;
    }[];
    header: Record<string, unknown>;
  }
  export function parseString(text: string): ParsedDxf;
  export function denormalise(parsed: ParsedDxf): ParsedDxf['entities'];
  export function toPolylines(parsed: ParsedDxf): { polylines: { vertices: [number, number][] }[] };
}
