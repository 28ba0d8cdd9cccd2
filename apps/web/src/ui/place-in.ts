/**
 * Where a pointer is in a drawing, in the drawing's own units (Y down, as SVG has it). By the transformation that the browser draws with: a
 * drawing need not fill its box, as an upright sheet in a wide one.
 */
export function placeIn(
  svg: SVGSVGElement,
  pointer: { readonly clientX: number; readonly clientY: number },
): { readonly x: number; readonly y: number } {
  const drawn = svg.getScreenCTM();
  if (!drawn) return { x: 0, y: 0 };
  const { x, y } = new DOMPoint(pointer.clientX, pointer.clientY).matrixTransform(drawn.inverse());
  return { x, y };
}
