/* SPDX-License-Identifier: GPL-3.0-or-later
 * document-private.h - the one recipe that the page works on: its text with every change, and how
 * it stands to the file on disk.
 *
 *   recipe file  ──read──>  text + journal  ──save──>  recipe file
 *        │                                                  │
 *        └── changed by something else: noticed by its digest, never written over unasked
 *
 * Whatever is typed is in the journal before the page hears that it was taken, so nothing is lost
 * when the server is killed; it comes back when the file is opened again.
 */
#pragma once
#include "base/error.h"

typedef struct HfDocument HfDocument;

typedef enum { HF_DISK_SAME, HF_DISK_CHANGED, HF_DISK_GONE } HfDisk;

/**
 * hf_document_open:
 * @file: the recipe
 * @state: folder for journals, made where missing; each recipe has its own below it
 * Returns: (transfer full); %HF_ERROR_NOT_FOUND, %HF_ERROR_BAD_VALUE (no text), %HF_ERROR_NO_ROOM
 *   (another page has it open), %HF_ERROR_IO
 */
HfDocument *hf_document_open(const char *file, const char *state, GError **error);
/** hf_document_close: the file stays as it is, its journal too; %NULL: nothing. */
void hf_document_close(HfDocument *document);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfDocument, hf_document_close)

const char *hf_document_file(const HfDocument *document); /* absolute, no links */
/** hf_document_text: (transfer none) zero-terminated, until the next change. */
const char *hf_document_text(const HfDocument *document, gsize *ret_length);

/** hf_document_change: @merge: (nullable) the same word as the change before: one undo step with
 *  it. %FALSE: as it was. */
gboolean hf_document_change(HfDocument *document, const char *text, gsize length, const char *merge,
                            GError **error);
gboolean hf_document_undo(HfDocument *document, GError **error);
/** hf_document_redo: one step forward again; as hf_document_undo(). */
gboolean hf_document_redo(HfDocument *document, GError **error);
/** hf_document_can_undo: is there a step back? O(1). */
gboolean hf_document_can_undo(const HfDocument *document);
/** hf_document_can_redo: was a step undone and nothing changed since? O(1). */
gboolean hf_document_can_redo(const HfDocument *document);

/** hf_document_is_saved: the file, as it was last read or saved, has this text. */
gboolean hf_document_is_saved(const HfDocument *document);
/** hf_document_is_draft: unsaved work of an earlier time came back when it was opened. */
gboolean hf_document_is_draft(const HfDocument *document);

/** hf_document_is_aside: what came back had brought the page down, so it was set aside when this
 * was opened: the text is that of the file, one step of undo brings the other one back. Until the
 * next change. */
gboolean hf_document_is_aside(const HfDocument *document);
/** hf_document_is_held: the file itself had brought the page down: it is not to be worked out.
 * Until the next change. */
gboolean hf_document_is_held(const HfDocument *document);
/** hf_document_begin_work: the text as it is now is worked out from now on; should that end the
 *  program, the next start knows. hf_document_end_work: it came to something, or is no longer
 *  wanted. */
void hf_document_begin_work(HfDocument *document);
void hf_document_end_work(HfDocument *document);

/** hf_document_disk: how the file is now, against when it was last read or saved. */
HfDisk hf_document_disk(const HfDocument *document);

/** hf_document_save: @over: also over a file that was changed by something else; without it that is
 *  %HF_ERROR_NO_ROOM and nothing is written. */
gboolean hf_document_save(HfDocument *document, gboolean over, GError **error);

/** hf_document_reload: takes what is on disk as one change, which can be undone. */
gboolean hf_document_reload(HfDocument *document, GError **error);

/** hf_document_save_as: writes a new file beside the recipe, never over one, and goes on with it;
 *  its changes come along. */
gboolean hf_document_save_as(HfDocument *document, const char *file, GError **error);

/** hf_document_sync: waits until the disk has every change. */
void hf_document_sync(HfDocument *document);
