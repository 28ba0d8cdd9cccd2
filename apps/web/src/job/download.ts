/** Hands a file to the browser to save. */
export function download(content: Blob, name: string): void {
  const url = URL.createObjectURL(content);
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  link.click();
  // The browser takes its own copy; some do so a moment later.
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
}
