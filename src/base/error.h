/* SPDX-License-Identifier: GPL-3.0-or-later
 * error.h - the one error domain: what went wrong, where, and what to do about it.
 *
 * Three kinds of trouble are never mixed:
 *   our bug                   g_assert / g_return_val_if_fail
 *   can't go on               GError in HF_ERROR (this file)
 *   can go on, but look       a finding in a list (hold/hold.h)
 */
#pragma once
#include <glib.h>

#define HF_ERROR (hf_error_quark())

typedef enum {
  HF_ERROR_BAD_VALUE, /* the recipe or the command line is wrong           -> exit 2 */
  HF_ERROR_NOT_FOUND, /* a file, font, name or character is not there      -> exit 2 */
  HF_ERROR_NO_ROOM,   /* what was asked for does not fit                   -> exit 2 */
  HF_ERROR_TOO_BIG,   /* over a cap on foreign input                       -> exit 2 */
  HF_ERROR_BAD_FONT,  /* a font file that can't be used                    -> exit 2 */
  HF_ERROR_IO,        /* disk, folder, permission                          -> exit 3 */
  HF_ERROR_CANCELLED, /* stopped by the user                               -> exit 130 */
  HF_ERROR_BUG,       /* a result that failed our own proof                -> exit 3 */
} HfErrorKind;

/** hf_error_quark: the domain of all errors of this program; HF_ERROR is its short name. O(1). */
GQuark hf_error_quark(void);

/**
 * hf_error_set:
 * @error: (nullable) where to put it
 * @where: (nullable) place in the user's words, e.g. `boats.yaml:4:9` or `letter 'R' of "HARBOUR"`
 * @fix: (nullable) what to do, in the imperative, lower case
 * @format: what was found; lower case, no full stop, user's words in quotes, number with unit
 *
 * Builds the message once: `WHERE: WHAT; FIX`. Where and fix stay readable one by one through
 * hf_error_where() and hf_error_fix().
 */
void hf_error_set(GError **error, HfErrorKind kind, const char *where, const char *fix,
                  const char *format, ...) G_GNUC_PRINTF(5, 6);

/** hf_error_where, hf_error_fix: (transfer none) (nullable) the fields of an error in HF_ERROR. */
const char *hf_error_where(const GError *error);
const char *hf_error_fix(const GError *error);

/** hf_error_exit_code: the exit code that the design gives to @error: 2, 3 or 130. */
int hf_error_exit_code(const GError *error);
