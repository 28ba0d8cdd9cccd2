import { useEffect, useState } from 'preact/hooks';

/** A picture that a package drew, on paper of its own colour. It is shown as an image: nothing in it can act on the page. */
export function SvgPicture(props: { readonly svg: string; readonly says: string }) {
  const [url, set] = useState<string | null>(null);
  useEffect(() => {
    const made = URL.createObjectURL(new Blob([props.svg], { type: 'image/svg+xml' }));
    set(made);
    return () => URL.revokeObjectURL(made);
  }, [props.svg]);
  return <figure class="picture paper">{url === null ? null : <img src={url} alt={props.says} />}</figure>;
}
