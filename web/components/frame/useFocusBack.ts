import { useEffect } from 'preact/hooks';

/** When what opened is gone, and the focus with it, the focus goes back to where it was before. */
export function useFocusBack(): void {
  useEffect(() => {
    const before = document.activeElement;
    return () =>
      // Only once it is gone: outside an open dialog nothing takes the focus.
      queueMicrotask(() => {
        if (document.activeElement === document.body && before instanceof HTMLElement)
          before.focus();
      });
  }, []);
}
