// Figures beside their budgets: one line each, for `cargo xtask bench` to gather.

/** The figure below which a share of all lies. */
export function quantile(figures: number[], share: number): number {
    const sorted = [...figures].sort((a, b) => a - b);
    return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN;
}

/** The middle of several runs. */
export const median = (figures: number[]): number => quantile(figures, 0.5);

/** Says one figure with its budget. */
export function note(name: string, figure: number, budget: number, unit: string, runs: number): void {
    const met = figure <= budget ? "met" : "missed";
    console.log(`budget | ${name} | ${figure.toPrecision(3)} ${unit} | ${budget} ${unit} | ${met} | ${runs}`);
}
