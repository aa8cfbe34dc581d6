/* SPDX-License-Identifier: GPL-3.0-or-later
 * flow-private.h - blocks of text that run through frames: columns of a page, then of the next.
 *
 *   frames of page 1       page 2
 *   +------+ +------+      +------+ +------+
 *   | a  b | | b  c |      | d    | |      |     a block breaks between lines, a heading stays
 *   +------+ +------+      +------+ +------+     with what follows it
 */
#pragma once
#include "out/picture-private.h"

typedef struct HfFlow HfFlow;

/** hf_flow_new: @width (of every frame) and all sizes in points; @zoom: all text times this. */
HfFlow *hf_flow_new(const HfPen *pen, double width, double zoom);
/** hf_flow_free: frees it and all that it owns; %NULL: nothing. */
void hf_flow_free(HfFlow *flow);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfFlow, hf_flow_free)

/** hf_flow_heading: @text in bold; it never stands last in a frame. Copied. */
void hf_flow_heading(HfFlow *flow, const char *text);
/** hf_flow_text: a paragraph in the colour 0xrrggbb; it breaks between lines. Copied. */
void hf_flow_text(HfFlow *flow, const HfPenStyle *style, guint colour, const char *text);
/** hf_flow_row: a word in the margin and what it is; nothing when @value is %NULL. */
void hf_flow_row(HfFlow *flow, const char *word, const char *value);
/** hf_flow_finding: @finding borrowed; its badge stands in the margin. */
void hf_flow_finding(HfFlow *flow, const HfFinding *finding, guint number);

/** hf_flow_marked: as hf_flow_finding(), with @text (copied) in place of all that it says. */
void hf_flow_marked(HfFlow *flow, const HfFinding *finding, guint number, const char *text);

/* Draws what stands in @box. */
typedef void (*HfFlowDraw)(const HfPen *pen, gpointer data, HfBox box);
/** hf_flow_drawn: a picture @height points high, as wide as a frame, in one piece. @data: borrowed
 *  until the last run, or freed by @free_data (nullable). */
void hf_flow_drawn(HfFlow *flow, double height, HfFlowDraw draw, gpointer data,
                   GDestroyNotify free_data);

/* Where frame @frame lies; when drawing, it is asked for just before it is filled. */
typedef HfBox (*HfFlowFrame)(gpointer data, guint frame);

/** hf_flow_run: fills frames 0, 1, 2, ... as @frame gives them until all is placed, or until more
 *  than @most are opened (0: never), or @cancel (nullable) says stop. @draw %FALSE only counts.
 *  Returns: how many frames it took. */
guint hf_flow_run(const HfFlow *flow, HfFlowFrame frame, gpointer data, gboolean draw, guint most,
                  const HfCancel *cancel);
