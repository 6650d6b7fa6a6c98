/** A value that lives in the page's address under one key: a link, a reload or the back button brings it back. */
import { type Dispatch, type SetStateAction, useEffect, useRef, useState } from 'react';
import { useSearchParams } from 'wouter';

/** Browsers refuse floods of address changes, so the typing is waited out [ms]. */
const QUIET_MS = 200;

/** `write` answers '' for what need not stand in the address. Both functions are the same at each call. */
export function useAddressed<T>(
  key: string,
  read: (text: string) => T,
  write: (value: T) => string,
): [T, Dispatch<SetStateAction<T>>] {
  const [search, setSearch] = useSearchParams();
  const inAddress = search.get(key) ?? '';
  const [value, setValue] = useState(() => read(inAddress));
  const written = useRef(inAddress);
  useEffect(() => {
    if (inAddress === written.current) return;
    written.current = inAddress;
    setValue(read(inAddress));
  }, [inAddress, read]);
  useEffect(() => {
    const text = write(value);
    if (text === written.current) return;
    const timer = setTimeout(() => {
      written.current = text;
      // Other keys are written beside it: what stands in the address now is kept.
      const next = new URLSearchParams(window.location.search);
      if (text === '') next.delete(key);
      else next.set(key, text);
      setSearch(next, { replace: true });
    }, QUIET_MS);
    return () => clearTimeout(timer);
  }, [key, value, write, setSearch]);
  return [value, setValue];
}
