import type { Medium } from '#shared/micro/media.ts';
import { temperature, wholeOrDecimal } from '../../format.ts';
import { StrikeOut } from '../form/Amend.tsx';
import { HistoryLink } from '../frame/HistoryLink.tsx';
import { announce } from '../frame/Notice.tsx';
import { Opens } from '../frame/Opens.tsx';
import { MediumForm } from './MediumForm.tsx';
import { SetupPart } from './SetupPart.tsx';

type Props = { media: readonly Medium[]; onChanged: () => void };

/** What the bench plates on: what each shows, when it is read, and its discard limit. */
export function Media({ media, onChanged }: Props) {
  const changed = (close: () => void, said: string) => () => {
    announce(said);
    close();
    onChanged();
  };
  return (
    <SetupPart id="media" title="Media and tests" gist={gistOf(media)}>
      <p class="prose">
        Usual values stand here until you write your own. The reading day of a plate and the limit
        it is judged by come from this list.
      </p>
      {media.map((medium) => (
        <article class="entry" key={medium.name}>
          <h3>
            {medium.name} {medium.retired && <small>no longer used</small>}{' '}
            {medium.record !== null && <HistoryLink id={medium.record.id} of={medium.name} />}
          </h3>
          <dl>
            <dt>Looks for</dt>
            <dd>{medium.looksFor}</dd>
            <dt>Read after</dt>
            <dd>
              {wholeOrDecimal(medium.readAfterDays)} days
              {medium.tempC !== undefined && ` at ${temperature(medium.tempC)}`}
              {medium.note !== undefined && `, ${medium.note}`}
            </dd>
            <dt>Thrown away at</dt>
            <dd>{limitWords(medium)}</dd>
            <dt>By</dt>
            <dd>{medium.record === null ? medium.source : `the house, ${medium.record.by}`}</dd>
          </dl>
          <div class="actions">
            <Opens writes="medium" label={`Change ${medium.name}`}>
              {(close) => (
                <MediumForm
                  medium={medium}
                  onSaved={changed(close, `${medium.name} is changed.`)}
                />
              )}
            </Opens>
            {medium.record !== null && (
              <Opens writes="medium" label={`Strike ${medium.name} out`}>
                {(close) => (
                  <StrikeOut
                    entryId={medium.record?.entryId ?? ''}
                    onDone={changed(close, `${medium.name} is struck out.`)}
                  />
                )}
              </Opens>
            )}
          </div>
        </article>
      ))}
      <Opens writes="medium" label="Add a medium">
        {(close) => <MediumForm onSaved={changed(close, 'The medium is written down.')} />}
      </Opens>
    </SetupPart>
  );
}

function gistOf(media: readonly Medium[]): string {
  const own = media.filter(({ record }) => record !== null).length;
  return `${media.length}, ${own === 0 ? 'with their usual values' : `${own} with your own values`}`;
}

function limitWords({ reads, discardPerMillion }: Medium): string {
  if (reads === 'presence') return 'any of it';
  if (reads === 'share') return 'a share is read, judged against the strain’s own';
  return discardPerMillion === undefined
    ? 'no limit is published'
    : `${wholeOrDecimal(discardPerMillion)} per million cells`;
}
