/** The peer brings no types; what the benchmark calls of it. */
declare module 'clipper-lib' {
  interface IntPoint {
    X: number;
    Y: number;
  }
  const clipper: {
    readonly JoinType: { readonly jtRound: number };
    readonly EndType: { readonly etClosedPolygon: number };
    readonly ClipperOffset: new (
      miterLimit: number,
      arcTolerance: number,
    ) => {
      AddPath(path: IntPoint[], joinType: number, endType: number): void;
      Execute(solution: IntPoint[][], delta: number): void;
    };
  };
  export default clipper;
}
