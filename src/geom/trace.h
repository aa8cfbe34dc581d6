/* SPDX-License-Identifier: GPL-3.0-or-later
 * trace.h - which edge of the input made this edge of the result?
 *
 *   boolean   input edge  o-----------------------o     the result lies on its input edge, to
 * within result            x--------->x            a grid unit; s0, s1: from where to where s0 s1
 *
 *   offset    result      -----x-->x-----               the result lies beside it: the nearest
 * input :   :  distance          edge, from foot to foot; round a corner both input edge
 * o-------------------o         feet are that corner
 *
 * Booleans and offsets forget who made an edge; here it is looked up again. The input's edges carry
 * their sources (HfEdge: shape, curve, stretch of its parameter).
 */
#pragma once
#include "geom/index.h"

typedef struct HfTrace HfTrace;

/**
 * hf_trace_new:
 * @input: (borrowed) rings with sources, clean or not; must outlive the trace, unchanged
 * @cell: mm, > 0; about the size of the usual query (hf_index_new())
 * Returns: (transfer full). Cost O(edges). Not for two threads at once.
 */
HfTrace *hf_trace_new(const HfRegion *input, double cell);
/** hf_trace_free: frees it and all that it owns; %NULL: nothing. */
void hf_trace_free(HfTrace *trace);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfTrace, hf_trace_free)

/* Which of several input edges at the same place. */
typedef enum {
  HF_TRACE_LATER,   /* the later shape, and the later edge of it: what was laid on top */
  HF_TRACE_CLOSEST, /* whatever fits best, the first of equals: one outline's own curves */
} HfTraceRule;

/** hf_trace_boolean: fills the sources of every ring of @region, which booleans made of the input:
 *  the input edge that carries the edge, within one grid unit (20 where crossings were rounded more
 *  than once), by @rule where several do; t0 > t1 when it runs against it. What lies on none
 *  has %HF_NO_SHAPE. Cost O(n). */
void hf_trace_boolean(HfTrace *trace, HfRegion *region, HfTraceRule rule);
/** hf_trace_whole: hf_trace_boolean() for who needs the source of every edge: where an edge of the
 *  result runs over several of the input in line, which booleans make one, it is cut at the
 * vertices that lie on it, within one grid unit; no edge but that moves. */
void hf_trace_whole(HfTrace *trace, HfRegion *region, HfTraceRule rule);
/** hf_trace_ring: the same of one ring, for whoever may be stopped between them. */
void hf_trace_ring(HfTrace *trace, HfRing *ring, HfTraceRule rule);

/** hf_trace_offset: fills the sources of every ring of @region, which lies @distance mm (either
 *  sign) beside the input's edge, chords @tolerance mm off: the shape, curve and stretch that the
 *  edge runs beside; t0 = t1 about a corner. What is nowhere @distance away has %HF_NO_SHAPE.
 *  Cost O(n) queries of |@distance|. */
void hf_trace_offset(HfTrace *trace, HfRegion *region, double distance, double tolerance);

/** hf_trace_cut_beside: @ring, without sources, lies @distance mm beside the input's edge, give or
 *  take @tolerance: its edges of @least mm and more are cut where the input has vertices, so that
 *  each runs beside one edge of it. */
void hf_trace_cut_beside(HfTrace *trace, HfRing *ring, double distance, double tolerance,
                         double least);

/** hf_trace_nearest: the input edge nearest to @p, the first of equals; %FALSE: none within @reach
 *  mm. @ret_share: where on it the foot lies, 0..1; @ret_away: mm. */
gboolean hf_trace_nearest(HfTrace *trace, HfPoint p, double reach, HfEdgeId *ret_id,
                          double *ret_share, double *ret_away);
