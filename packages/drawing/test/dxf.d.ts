declare module 'dxf' {
  export function parseString(text: string): {
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
  };
}
