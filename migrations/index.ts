import type { Migration } from 'kysely';
import * as createLedger from './0001_create_ledger.js';
import * as renameTerrain from './0002_rename_terrain.js';
import * as indexPages from './0003_index_pages.js';
import * as keepClockWord from './0004_keep_clock_word.js';
import * as keepFormerIntervals from './0010_keep_former_intervals.js';
import * as indexLikely from './0011_index_likely.js';
import * as indexContacts from './0012_index_contacts.js';
import * as readAgain from './0013_read_again.js';
import * as markPlaces from './0014_mark_places.js';
import * as tellByCodes from './0015_tell_by_codes.js';
import * as indexFleets from './0020_index_fleets.js';
import * as indexNotices from './0035_index_notices.js';
import * as gatherVisits from './0040_gather_visits.js';
import * as findWords from './0050_find_words.js';
import * as indexRecipients from './0051_index_recipients.js';
import * as markFirstStandings from './0060_mark_first_standings.js';
import * as indexAsking from './0070_index_asking.js';
import * as indexMails from './0071_index_mails.js';
import * as bookByFacts from './0100_book_by_facts.js';
import * as keepProfiles from './0110_keep_profiles.js';
import * as noteVersions from './0140_note_versions.js';
import * as indexUntaken from './0141_index_untaken.js';
import * as takeMails from './0150_take_mails.js';
import * as partForecasts from './0160_part_forecasts.js';
import * as stopFound from './0210_stop_found.js';
import * as keepRecorders from './0230_keep_recorders.js';
import * as keepWays from './0231_keep_ways.js';
import * as partProfiles from './0250_part_profiles.js';
import * as indexLoans from './0270_index_loans.js';
import * as indexUnread from './0271_index_unread.js';
import * as eraseTexts from './0280_erase_texts.js';

/** All migrations by name, in order; a store with one that is not here was made by a newer program. */
export const MIGRATIONS: Readonly<Record<string, Migration>> = {
  '0001_create_ledger': createLedger,
  '0002_rename_terrain': renameTerrain,
  '0003_index_pages': indexPages,
  '0004_keep_clock_word': keepClockWord,
  '0010_keep_former_intervals': keepFormerIntervals,
  '0011_index_likely': indexLikely,
  '0012_index_contacts': indexContacts,
  '0013_read_again': readAgain,
  '0014_mark_places': markPlaces,
  '0015_tell_by_codes': tellByCodes,
  '0020_index_fleets': indexFleets,
  '0035_index_notices': indexNotices,
  '0040_gather_visits': gatherVisits,
  '0050_find_words': findWords,
  '0051_index_recipients': indexRecipients,
  '0060_mark_first_standings': markFirstStandings,
  '0070_index_asking': indexAsking,
  '0071_index_mails': indexMails,
  '0100_book_by_facts': bookByFacts,
  '0110_keep_profiles': keepProfiles,
  '0140_note_versions': noteVersions,
  '0141_index_untaken': indexUntaken,
  '0150_take_mails': takeMails,
  '0160_part_forecasts': partForecasts,
  '0210_stop_found': stopFound,
  '0230_keep_recorders': keepRecorders,
  '0231_keep_ways': keepWays,
  '0250_part_profiles': partProfiles,
  '0270_index_loans': indexLoans,
  '0271_index_unread': indexUnread,
  '0280_erase_texts': eraseTexts,
};
