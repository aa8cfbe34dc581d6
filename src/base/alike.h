/* SPDX-License-Identifier: GPL-3.0-or-later
 * alike.h - letters of other alphabets that look like those of ours, told by name.
 *
 * Two words that nobody can tell apart on paper are two words for the machine: a Cyrillic letter
 * in a key or in a name comes in by copying from elsewhere. Such a word is never taken for the
 * other; what is said of it names the letter.
 */
#pragma once
#include <glib.h>

/**
 * hf_alike_plain:
 * Returns: (transfer full) @text (UTF-8) with each letter or digit that only looks like one of
 *   ASCII written as that, and what nobody can see left out: of two texts that look the same the
 *   same comes out. O(length).
 */
char *hf_alike_plain(const char *text);

/**
 * hf_alike_of: what @c only looks like, and in which alphabet it is (static); 0: nothing known.
 */
char hf_alike_of(gunichar c, const char **ret_alphabet);

/** hf_alike_mixed: are there letters of ASCII in @text, and such as only look like them? */
gboolean hf_alike_mixed(const char *text);

/**
 * hf_alike_say:
 * Returns: (transfer full) (nullable) `its 3rd character 'c' (U+0441) is Cyrillic and only looks
 *   like c` (the first one in @text that does), when @text mixes alphabets or is made of nothing
 *   but such; a word that is Cyrillic or Greek throughout is what it is: %NULL
 */
char *hf_alike_say(const char *text);
