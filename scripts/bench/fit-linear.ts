import { Matrix, solve } from 'ml-matrix'

/** Least-squares coefficients of rows · c = values. */
export const fitLinear = (rows: readonly (readonly number[])[], values: readonly number[]): readonly number[] =>
  solve(new Matrix(rows.map((r) => [...r])), Matrix.columnVector([...values]), true).to1DArray()
