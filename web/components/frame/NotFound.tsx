import { Page } from './Page.tsx';

export function NotFound() {
  return (
    <Page title="No such page" lead="The address leads nowhere in this book.">
      <p>
        <a class="button" href="/">
          Go to Today
        </a>
      </p>
    </Page>
  );
}
