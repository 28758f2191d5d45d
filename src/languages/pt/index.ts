import type { LanguageTexts } from '../language.js';
import { mails } from './mails.js';
import { pages } from './pages/index.js';
import { refusals } from './refusals.js';
import { rider } from './rider/index.js';
import { terms } from './terms.js';

export const pt: LanguageTexts = { terms, refusals, mails, pages, rider };
