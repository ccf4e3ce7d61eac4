/** The part of jstat that the bench compares with; the package brings no types of its own. */
declare module 'jstat' {
  type Inverse = (p: number, ...parameters: number[]) => number;
  const jStat: {
    chisquare: { inv: Inverse };
    beta: { inv: Inverse };
    studentt: { inv: Inverse };
    normal: { inv: Inverse };
  };
  export default { jStat };
}
