/** On paper in place of a form: a sheet with a heading alone would look like a fault. */
export const FormNotPrinted = ({ instead }: { instead: string }) => (
  <p class="printed-only form-not-printed">What is typed on this page is not printed. {instead}</p>
);
