import { render } from 'preact';
import { Desk } from './job/desk.js';
import { screenOf } from './job/screen-name.js';
import { Store } from './job/store.js';
import { Shell } from './shell.js';
import { text } from './text/catalogue.js';
import './theme/tokens.css';
import './theme/page.css';
import { PageContext } from './ui/use-page.js';
import { lacking } from './unsupported.js';

const place = document.getElementById('page')!;
const missing = lacking();
if (missing.length > 0) {
  const said = document.createElement('p');
  said.setAttribute('role', 'alert');
  said.textContent = `${text.unsupported.text} ${missing.join(', ')}. ${text.unsupported.hint}`;
  place.replaceChildren(said);
} else {
  const store = new Store({
    screen: screenOf(location.hash),
    settings: { unit: 'mm', theme: 'as the browser' },
    history: null,
    view: null,
    result: null,
    book: null,
    busy: null,
    saving: 'saved',
    notices: [],
  });
  const desk = new Desk(store);
  place.replaceChildren();
  render(
    <PageContext.Provider value={{ store, desk }}>
      <Shell />
    </PageContext.Provider>,
    place,
  );
  void desk.wake();
  // Offline is a gift, no need: where it cannot be had the page works all the same.
  if (import.meta.env.PROD && isSecureContext && 'serviceWorker' in navigator)
    navigator.serviceWorker.register('./keeper.js').catch(() => undefined);
}
