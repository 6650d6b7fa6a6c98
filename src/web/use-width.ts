/**
 * The width of an element in CSS pixels, measured before the first paint and kept up to date: a drawing to scale is then
 * never missing while a frame is awaited.
 */
import { useCallback, useState } from 'react';

export interface MeasuredWidth {
  ref: (element: HTMLElement | null) => (() => void) | undefined;
  width: number;
}

export function useWidth(): MeasuredWidth {
  const [width, setWidth] = useState(0);
  const ref = useCallback((element: HTMLElement | null) => {
    if (!element) return undefined;
    const measure = () => setWidth(element.clientWidth);
    measure();
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    return () => observer.disconnect();
  }, []);
  return { ref, width };
}
