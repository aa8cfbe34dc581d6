/* SPDX-License-Identifier: GPL-3.0-or-later
 * queue-private.hpp - the circle events of Boost's sweep, the leftmost first.
 *
 *   heap    x y -> | x y -> | x y ->      Boost's own queue sorts iterators of a list: each
 *           |      |        |             comparison looks up two events that lie anywhere. Here
 *   events  [....] [....] [....]          what is compared stands in the heap itself, and events
 *                                         that are done with are used again.
 *
 * Invariant: the same pushes and pops of the same heap (std::priority_queue) by the same comparison
 * (event_comparison_predicate of two circles: lower_x, then y), so the same order, ties and all. An
 * event stays where it is until it is popped: the beach line points at it.
 */
#pragma once
#include <boost/polygon/detail/voronoi_structures.hpp>
#include <deque>
#include <queue>
#include <vector>

namespace boost
{
namespace polygon
{
namespace detail
{

template <typename Arc, typename Predicate>
class ordered_queue<std::pair<circle_event<double>, Arc>, Predicate>
{
public:
  typedef std::pair<circle_event<double>, Arc> Event;

  ordered_queue() = default;
  ordered_queue(const ordered_queue &) = delete;
  void operator=(const ordered_queue &) = delete;

  bool empty() const
  {
    return heap_.empty();
  }
  const Event &top() const
  {
    return *heap_.top().event;
  }
  void pop()
  {
    spare_.push_back(heap_.top().event);
    heap_.pop();
  }
  Event &push(const Event &event)
  {
    Event *mine = put_by(event);
    heap_.push({event.first.lower_x(), event.first.y(), mine});
    return *mine;
  }
  void clear()
  {
    heap_ = Heap();
    spare_.clear();
    events_.clear();
  }

private:
  struct Key {
    double lower_x, y;
    Event *event;
  };
  struct Later {
    bool operator()(const Key &a, const Key &b) const
    {
      return a.lower_x != b.lower_x ? b.lower_x < a.lower_x : b.y < a.y;
    }
  };
  typedef std::priority_queue<Key, std::vector<Key>, Later> Heap;

  Event *put_by(const Event &event)
  {
    if (spare_.empty()) {
      events_.push_back(event);
      return &events_.back();
    }
    Event *mine = spare_.back();
    spare_.pop_back();
    *mine = event;
    return mine;
  }

  Heap heap_;
  std::deque<Event> events_;
  std::vector<Event *> spare_;
};

} // namespace detail
} // namespace polygon
} // namespace boost
