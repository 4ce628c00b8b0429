#include "futures/stopping.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace mendworth {
namespace {

constexpr int most_sweeps = 8;
constexpr double significant = 2.0;        ///< standard errors of a gain that is more than chance
constexpr std::size_t least_choices = 32;  ///< of a class that has a span of its own
constexpr double least_changed = 16;       ///< choices that a bounded span decides otherwise

/// Repairing again less giving up, at one choice.
struct Choice {
  double t = 0;
  double excess = 0;
};

/// Cost of a future from its `next` choice on under the rule.
double cost_from(const StoppingRule& rule, const Trace& trace, std::size_t next) {
  for (; next < trace.events.size(); ++next) {
    const Trace::Event& e = trace.events[next];
    if (!rule.again(e.its_class, e.repairs_before, e.t)) return e.cost_if_given_up;
  }
  return trace.cost;
}

double halfway(const std::vector<Choice>& choices, std::size_t i) {
  return i == 0 ? 0.0 : 0.5 * (choices[i - 1].t + choices[i].t);
}

/// Standard deviation of the sum of the choices' excess, each future being as good as another.
double deviation(const std::vector<Choice>& choices, std::size_t from, std::size_t to) {
  double squares = 0;
  for (std::size_t i = from; i < to; ++i) squares += choices[i].excess * choices[i].excess;
  return std::sqrt(squares);
}

/// `choices` in the order of time.
StoppingRule::Span best_span(const std::vector<Choice>& choices) {
  constexpr double ever = std::numeric_limits<double>::infinity();
  const StoppingRule::Span always{0, ever}, never_again{0, 0};
  double whole = 0;
  for (const Choice& choice : choices) whole += choice.excess;
  const bool plain_is_always = whole <= 0;
  const double plain = std::min(whole, 0.0);

  // The run of least sum; choices at one time belong together.
  double least = 0, running = 0;
  std::size_t first = 0, best_first = 0, best_last = 0;
  for (std::size_t i = 0; i < choices.size(); ++i) {
    if (running > 0 && (i == 0 || choices[i].t > choices[i - 1].t)) {
      running = 0;
      first = i;
    }
    running += choices[i].excess;
    const bool together = i + 1 < choices.size() && choices[i + 1].t == choices[i].t;
    if (running < least && !together) {
      least = running;
      best_first = first;
      best_last = i + 1;
    }
  }
  const StoppingRule::Span simple = plain_is_always ? always : never_again;
  if (best_last == 0) return simple;
  // What is left out against the plain choice, and what that is worth.
  const double gain = plain - least;
  const double noise = plain_is_always ? std::hypot(deviation(choices, 0, best_first),
                                                    deviation(choices, best_last, choices.size()))
                                       : deviation(choices, best_first, best_last);
  if (gain <= 0) return simple;
  const double count = plain_is_always ? static_cast<double>(best_first + choices.size() - best_last)
                                       : static_cast<double>(best_last - best_first);
  if (count < least_changed) return simple;
  // The spread of the excess about its mean, not about nought: certain choices have none.
  const double spread = std::sqrt(std::max(0.0, noise * noise - gain * gain / std::max(count, 1.0)));
  if (gain <= significant * spread) return simple;
  return {best_first == 0 ? 0.0 : halfway(choices, best_first),
          best_last == choices.size() ? ever : halfway(choices, best_last)};
}

double mean_cost(const StoppingRule& rule, const std::vector<Trace>& traces) {
  double sum = 0;
  for (const Trace& trace : traces) sum += cost_from(rule, trace, 0);
  return sum / static_cast<double>(std::max<std::size_t>(traces.size(), 1));
}

/// Where a choice stands.
struct ChoiceAt {
  std::size_t trace = 0, event = 0;
  double t = 0;
};

/// Where all choices stand, and those of each class, in the order of time.
struct Places {
  std::vector<ChoiceAt> all;
  std::vector<std::vector<ChoiceAt>> of_class;
};

Places places_in(const std::vector<Trace>& traces, std::size_t classes) {
  Places places;
  for (std::size_t i = 0; i < traces.size(); ++i) {
    for (std::size_t e = 0; e < traces[i].events.size(); ++e)
      places.all.push_back({i, e, traces[i].events[e].t});
  }
  std::stable_sort(places.all.begin(), places.all.end(),
                   [](const ChoiceAt& a, const ChoiceAt& b) { return a.t < b.t; });
  places.of_class.resize(classes);
  for (const ChoiceAt& at : places.all)
    places.of_class[traces[at.trace].events[at.event].its_class].push_back(at);
  return places;
}

/// Costs of the choices of one class or of several under the rule.
std::vector<Choice> choices_at(const StoppingRule& rule, const std::vector<Trace>& traces,
                               const std::vector<ChoiceAt>& places) {
  std::vector<Choice> choices;
  choices.reserve(places.size());
  for (const ChoiceAt& at : places) {
    const Trace& trace = traces[at.trace];
    const Trace::Event& event = trace.events[at.event];
    choices.push_back({at.t, cost_from(rule, trace, at.event + 1) - event.cost_if_given_up});
  }
  return choices;
}

/// Whether one span is better than another by more than chance.
bool surely_better(const std::vector<Choice>& choices, const StoppingRule::Span& span,
                   const StoppingRule::Span& than) {
  double gain = 0, squares = 0, count = 0;
  for (const Choice& choice : choices) {
    if (span.holds(choice.t) == than.holds(choice.t)) continue;
    const double g = span.holds(choice.t) ? -choice.excess : choice.excess;
    gain += g;
    squares += g * g;
    count += 1;
  }
  return gain > 0 && gain > significant * std::sqrt(std::max(0.0, squares - gain * gain / count));
}

/// From a start that is the same for all classes: first one span for all of them, then one of its own for each class
/// where that is better by more than chance, from many repairs to few, until nothing changes.
StoppingRule improved(StoppingRule rule, const std::vector<Trace>& traces, const Places& places) {
  std::vector<std::size_t> order;
  for (int repairs = StoppingRule::repairs_told_apart - 1; repairs >= 0; --repairs) {
    for (std::size_t k = 0; k < places.of_class.size(); ++k) {
      if (k % StoppingRule::repairs_told_apart == static_cast<std::size_t>(repairs) &&
          places.of_class[k].size() >= least_choices)
        order.push_back(k);
    }
  }
  double cost = mean_cost(rule, traces);
  const auto take = [&](StoppingRule next) {
    const double then = mean_cost(next, traces);
    if (!(then < cost)) return false;
    rule = std::move(next);
    cost = then;
    return true;
  };
  for (int sweep = 0; sweep < most_sweeps; ++sweep) {
    StoppingRule next = rule;
    std::fill(next.spans.begin(), next.spans.end(), best_span(choices_at(rule, traces, places.all)));
    if (next.spans == rule.spans || !take(std::move(next))) break;
  }
  for (int sweep = 0; sweep < most_sweeps; ++sweep) {
    bool changed = false;
    for (const std::size_t k : order) {
      const std::vector<Choice> choices = choices_at(rule, traces, places.of_class[k]);
      const StoppingRule::Span span = best_span(choices);
      if (!surely_better(choices, span, rule.spans[k])) continue;
      StoppingRule next = rule;
      next.spans[k] = span;
      changed = take(std::move(next)) || changed;
    }
    if (!changed) break;
  }
  return rule;
}

}  // namespace

double cost_under(const StoppingRule& rule, const Trace& trace) { return cost_from(rule, trace, 0); }

StoppingRule fitted_rule(const std::vector<Trace>& traces, std::size_t parts) {
  const std::size_t classes = StoppingRule::classes(parts);
  const Places places = places_in(traces, classes);
  StoppingRule best;
  double least = std::numeric_limits<double>::infinity();
  for (const double to : {std::numeric_limits<double>::infinity(), 0.0}) {
    StoppingRule start;
    start.spans.assign(classes, {0.0, to});
    const StoppingRule found = improved(std::move(start), traces, places);
    const double cost = mean_cost(found, traces);
    if (cost < least) {
      least = cost;
      best = found;
    }
  }
  return best;
}

}  // namespace mendworth
