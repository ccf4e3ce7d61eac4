import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { useLocation } from 'preact-iso/router';
import { ErrorSummary } from '../form/ErrorSummary.tsx';
import { formProblems } from '../form/formProblems.ts';
import { Notice } from './Notice.tsx';

type Props = {
  title: string;
  /** A line under the heading: what this is, or where it stands. */
  lead?: ComponentChildren;
  /** Up one step: "Yeast in store". */
  back?: { href: string; label: string };
  children?: ComponentChildren;
};

let isFirstPage = true;

/** A page: heading that takes the focus on arrival, what is wrong above it, what was saved below. */
export function Page({ title, lead, back, children }: Props) {
  const heading = useRef<HTMLHeadingElement>(null);
  const { path } = useLocation();
  useEffect(() => {
    document.title = `${title} · Barmbook`;
  }, [title]);
  useEffect(() => {
    formProblems.value = null;
    if (!isFirstPage) heading.current?.focus();
    isFirstPage = false;
  }, [path]);
  return (
    <>
      <ErrorSummary />
      {back && (
        <p class="back">
          <a href={back.href}>← {back.label}</a>
        </p>
      )}
      <h1 ref={heading} tabIndex={-1}>
        {title}
      </h1>
      {lead !== undefined && <p class="lead">{lead}</p>}
      <Notice />
      {children}
    </>
  );
}
