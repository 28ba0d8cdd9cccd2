/** A question about an object, answered once for as long as the object lives: all that is asked here never changes. */
export function remember<K extends object, V>(answer: (key: K) => V): (key: K) => V {
  const known = new WeakMap<K, { readonly value: V }>();
  return (key) => {
    let found = known.get(key);
    if (found === undefined) {
      found = { value: answer(key) };
      known.set(key, found);
    }
    return found.value;
  };
}
