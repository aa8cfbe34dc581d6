/* SPDX-License-Identifier: GPL-3.0-or-later
 * journal-private.h - every change of one text, kept on disk: undo and redo without end, in steady
 * memory, safe against being killed at any moment.
 *
 *   base ── change ── change ── change           each change knows the one before it, so undo walks
 *             ^          ^         ^             back through the file; what was undone and can be
 *             undo <─────┴─ undo <─┘             done again is a list of places in memory
 *
 * The file only grows. A record is written whole or not at all: it carries its length and a
 * checksum, and whatever does not fit at the end is cut off when the file is opened again. The
 * text itself is never kept twice: it is what the records make of it.
 */
#pragma once
#include "base/error.h"

typedef struct HfJournal HfJournal;

/**
 * hf_journal_open:
 * @file: made (for this user alone) when it is not there; locked until it is closed
 * Returns: (transfer full) or %NULL with %HF_ERROR_IO; %HF_ERROR_NO_ROOM: another page has it open.
 *   A damaged record and all behind it are put aside into FILE.damaged, never thrown away: where
 *   there is no room for that, %HF_ERROR_IO, and the file is as it was.
 */
HfJournal *hf_journal_open(const char *file, GError **error);
/** hf_journal_close: unlocks it; all that was put in stays. %NULL: nothing. */
void hf_journal_close(HfJournal *journal);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfJournal, hf_journal_close)

/** hf_journal_is_new: nothing was ever put in: hf_journal_begin() comes first. */
gboolean hf_journal_is_new(const HfJournal *journal);
gboolean hf_journal_begin(HfJournal *journal, const char *text, gsize length, GError **error);

/** hf_journal_text: (transfer none) the text as it is now, zero-terminated; until the next call
 *  that changes it. */
const char *hf_journal_text(const HfJournal *journal, gsize *ret_length);

/** hf_journal_change: the text becomes @text. @joined: one undo step with the change before it. No
 *  difference: nothing is written. %FALSE with %HF_ERROR_IO: as it was. */
gboolean hf_journal_change(HfJournal *journal, const char *text, gsize length, gboolean joined,
                           GError **error);

/** hf_journal_can_undo: is there a change before the text as it is now? O(1). */
gboolean hf_journal_can_undo(const HfJournal *journal);
/** hf_journal_can_redo: was a change undone and none made since? O(1). */
gboolean hf_journal_can_redo(const HfJournal *journal);
/** hf_journal_undo, hf_journal_redo: one step; %TRUE also when there is none. */
gboolean hf_journal_undo(HfJournal *journal, GError **error);
gboolean hf_journal_redo(HfJournal *journal, GError **error);

/** hf_journal_kept: (transfer none) (nullable) digest of the recipe file as it was last read or
 *  saved. */
const char *hf_journal_kept(const HfJournal *journal);
/** hf_journal_keep: remembers @digest as that of the file; %FALSE with %HF_ERROR_IO: as it was. */
gboolean hf_journal_keep(HfJournal *journal, const char *digest, GError **error);

/** hf_journal_sync: waits until the disk has it all (against loss of power). */
void hf_journal_sync(HfJournal *journal);
