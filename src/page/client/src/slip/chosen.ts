// SPDX-License-Identifier: GPL-3.0-or-later
// What goes with the entry that is looked at: worked out once for the slip and the sign.
import { computed } from "@preact/signals";
import * as store from "../store";
import { groupsOf, membersOf } from "./names";

const meant = computed(() => store.selection.value.entry);
/** The groups that place it, the innermost first. */
export const groupsAround = computed<readonly number[]>(() => (meant.value === null ? [] : groupsOf(store.tree.value, store.schema.value, meant.value)));
/** The entries that it places, where it is a group. */
export const membersInside = computed<readonly number[]>(() => (meant.value === null ? [] : membersOf(store.tree.value, store.schema.value, meant.value)));
