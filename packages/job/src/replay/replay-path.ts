/** Where a board's replay goes. */
export const replayPath = (board: string): string => `replays/${board}.html`;
