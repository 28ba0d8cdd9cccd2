// What the types of pdfkit leave out: its entry for browsers, which has to be given the measures of standard fonts.
declare module 'pdfkit/standard-fonts/Helvetica' {
  const measures: { readonly name: 'Helvetica' };
  export default measures;
}
declare module 'pdfkit/standard-fonts/HelveticaBold' {
  const measures: { readonly name: 'Helvetica-Bold' };
  export default measures;
}
