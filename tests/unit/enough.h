/* SPDX-License-Identifier: GPL-3.0-or-later
 * enough.h - how many cases of many are enough. Whether results are right is judged by the plain
 * build, which tries them all; a sanitizer looks at memory, takes seven times as long for each, and
 * sees in a quarter of them what there is to be seen.
 */
#pragma once
#include <glib.h>

#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
#define HF_SANITIZED 1
#else
#define HF_SANITIZED 0
#endif

/** enough: @n, or a quarter of it (at least 1) under a sanitizer. */
static inline guint
enough(guint n)
{
  return HF_SANITIZED ? MAX(n / 4, 1) : n;
}
