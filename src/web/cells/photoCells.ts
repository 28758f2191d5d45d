import { html } from 'hono/html';
import { PHOTO_SUBJECTS } from '../../core/tokens.js';
import type { ShownPhoto } from '../../flow/photos/photos.js';
import { formToken } from '../layout.js';
import { choice, type Markup, NOTHING, tick } from '../markup.js';
import type { Viewer, Voice } from '../viewer.js';
import { actButton } from './actButton.js';
import { pathOfUnit } from './dueCells.js';

/** Of one photograph as it is sent, and how many come at once. */
export const LARGEST_PHOTO_MB = 20;
export const MOST_AT_ONCE = 6;

/** What browsers can send; a phone that is asked for these turns its own format into one of them. */
export const PHOTO_TYPES = 'image/jpeg,image/png,image/webp';

/** Below the address of its unit, the workshop’s or its rider’s. */
export const pathOfPhotoBelow = (unit: string, id: string): string =>
  `${unit}/photos/${encodeURIComponent(id)}`;

export const pathOfPhoto = (tag: string, id: string): string => pathOfPhotoBelow(pathOfUnit(tag), id);

/** What a photograph shows, and when it was taken. */
const captionOf = ({ texts, words }: Voice, { shows, on }: ShownPhoto, today: Viewer['today']): string =>
  `${texts.photos.subjects[shows]}, ${words.day(on, today)}`;

/** Photographs side by side, small; each leads to itself. */
export function photoStrip(
  viewer: Voice & Pick<Viewer, 'today'>,
  photos: readonly ShownPhoto[],
  pathOf: (photo: ShownPhoto) => string,
  below: (photo: ShownPhoto) => Markup = () => NOTHING,
): Markup {
  if (photos.length === 0) return NOTHING;
  return html`<ul class="photos">${photos.map((one) => {
    const caption = captionOf(viewer, one, viewer.today);
    return html`<li><a href="${pathOf(one)}"><img src="${pathOf(one)}/small" alt="${viewer.texts.photos.of(caption)}" width="${one.width}" height="${one.height}" ></a><small>${caption}</small>${below(one)}</li>`;
  })}</ul>`;
}

/** Where a form of photographs leads back to. */
export type PhotoPlace = 'bench' | 'unit' | 'service' | 'service-bench';

/**
 * The photographs of a unit that wait for its service, and the form by which more come: by the camera of a tablet, or as
 * files. The script sends a chosen picture at once, and leaves what is typed elsewhere as it is.
 */
export function photoForm(
  viewer: Viewer,
  tag: string,
  waiting: readonly ShownPhoto[],
  from: PhotoPlace,
): Markup {
  const { photos } = viewer.texts;
  const path = `${pathOfUnit(tag)}/photos`;
  const id = `photos-${tag}`;
  return html`<section class="photo-box" id="${from === 'bench' ? id : 'photos'}">
${photoStrip(
  viewer,
  waiting,
  (one) => pathOfPhoto(tag, one.id),
  (one) => removeForm(viewer, tag, one, from),
)}
<details><summary>${photos.add}</summary>
<form method="post" action="${path}" enctype="multipart/form-data" data-photos data-sending="${photos.sending}" data-broken="${photos.broken}">${formToken(viewer)}<input type="hidden" name="from" value="${from}">
${choice({ name: 'shows', id: `shows-${tag}`, label: photos.shows, value: 'rings', choices: PHOTO_SUBJECTS.map((value) => ({ value, label: photos.subjects[value] })) })}
${tick('showsPerson', photos.showsPerson, false)}
<p class="hint">${photos.showsPersonHint}</p>
<div class="answers"><label class="button">${photos.camera}<input class="hidden" type="file" name="photo" accept="${PHOTO_TYPES}" capture="environment"></label>
<label class="button">${photos.choose}<input class="hidden" type="file" name="photo" accept="${PHOTO_TYPES}" multiple></label></div>
<p class="hint">${photos.hint(MOST_AT_ONCE, LARGEST_PHOTO_MB)}</p>
<p role="status" data-said></p>
<noscript><p><button>${photos.send}</button></p></noscript></form></details></section>`;
}

const removeForm = (viewer: Viewer, tag: string, { id }: ShownPhoto, from: PhotoPlace): Markup =>
  html`<form method="post" action="${pathOfPhoto(tag, id)}/remove">${formToken(viewer)}<input type="hidden" name="from" value="${from}">${actButton({ id: `photo-${id}`, label: viewer.texts.photos.remove, tells: viewer.texts.photos.removeTells, look: 'grave' })}</form>`;
