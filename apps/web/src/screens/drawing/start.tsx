import { EXAMPLES } from '../../job/examples.js';
import { text } from '../../text/catalogue.js';
import { ChooseFiles } from '../../ui/choose-files.js';
import { Entry } from '../../ui/entry.js';
import { usePage } from '../../ui/use-page.js';
import { DropPlace } from './drop-place.js';

/** The card before there is a job: where a drawing is dropped, and examples to begin with. */
export function Start() {
  const { desk } = usePage();
  return (
    <>
      <Entry head={text.drawing.begin} says={text.drawing.beginSays}>
        <DropPlace onFiles={(files) => void desk.open(files)}>
          <p>{text.drawing.drop}</p>
          <ChooseFiles label={text.drawing.choose} onFiles={(files) => void desk.open(files)} />
          <p class="soft small">{text.drawing.stays}</p>
        </DropPlace>
      </Entry>
      <Entry head={text.examples.head}>
        <Examples />
      </Entry>
    </>
  );
}

/** The examples, each a button. */
export function Examples() {
  const { desk } = usePage();
  return (
    <ul class="choices">
      {EXAMPLES.map(({ id, files }) => (
        <li key={id}>
          <button type="button" onClick={() => void desk.openExample(files)}>
            <strong>{text.examples[id].name}</strong>
            <span class="soft">{text.examples[id].says}</span>
          </button>
        </li>
      ))}
    </ul>
  );
}
