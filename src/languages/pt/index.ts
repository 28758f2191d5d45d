import { mails } from './mails.js';
import { pages } from './pages/index.js';
import { rider } from './rider/index.js';
import { terms } from './terms.js';

export const pt = { terms, mails, pages, rider };
