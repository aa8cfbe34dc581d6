/* SPDX-License-Identifier: GPL-3.0-or-later
 * seen.h - text from others, made fit to be read: in a terminal, a log, a message.
 *
 * Names, texts, file names and what a file says come from anybody. A terminal obeys control
 * characters in them (ECMA-48: a text could paint a verdict of its own), and direction marks turn
 * what stands around them (Unicode UAX 9: a name could hide the end of a sentence).
 */
#pragma once
#include <glib.h>

enum {
  HF_SEEN_QUOTED = 120,   /* characters of one quoted value that are shown */
  HF_SEEN_MESSAGE = 6000, /* characters of one message */
};

/**
 * hf_seen:
 * @text: (nullable) UTF-8 or not
 * @lines: line breaks stay; else they are made visible too
 * Returns: (transfer full) (nullable) @text with each control character, direction mark, line and
 *   paragraph separator, and each byte that is no UTF-8 written as `<U+001B>` or `<FF>`; tabs
 *   become spaces. %NULL of %NULL. Linear in its length.
 */
char *hf_seen(const char *text, gboolean lines);

/**
 * hf_seen_message:
 * As hf_seen(), and what stands between double quotes, or has no space, is cut at HF_SEEN_QUOTED
 * characters (a value of five thousand letters is not echoed), all of it at HF_SEEN_MESSAGE; `…`
 * stands for what was cut. (transfer full)
 */
char *hf_seen_message(const char *text, gboolean lines);

/** hf_seen_value: one value in the middle of a sentence, not quoted: as hf_seen() on one line, cut
 * at 40 characters with `…`. (transfer full) */
char *hf_seen_value(const char *text);

/** hf_seen_place: a file's path: as hf_seen() on one line, whole, so that it can be found; but a
 * name in it that is longer than any disk has (NAME_MAX bytes) is cut at HF_SEEN_QUOTED characters
 * with `…`. (transfer full) (nullable) %NULL of %NULL. */
char *hf_seen_place(const char *path);

/** hf_seen_is_obeyed: a control character, a mark of direction or a separator of lines? */
gboolean hf_seen_is_obeyed(gunichar c);

/** hf_seen_is_blank: is there nothing in @text (UTF-8) that anybody can see? Spaces of any kind,
 *  joiners, marks of direction and other characters without a form are nothing. */
gboolean hf_seen_is_blank(const char *text);
