#pragma once

#include <optional>
#include <string>
#include <vector>

#include "answers/contest.hpp"
#include "numeric/weibull.hpp"

/// What a case brings to an order that several share.
namespace mendworth {

/// What a device that is given up brings as a source of parts. Costs are those of the labour.
struct Stripping {
  double opening = 0;  ///< once; with what being replaced costs beyond the best course but a repair
  std::string replaced_by;
  /// Originals that work, of the same use.
  struct Good {
    int part = 0;  ///< of the case
    int pieces = 0;
    double take_out = 0;  ///< a piece
    LifeUnit unit = LifeUnit::cycles;
    WeibullLaw law;
    double age = 0;  ///< in that unit
  };
  std::vector<Good> goods;
};

/// A case as a job: what its repair is worth without its pieces, and what these are to be.
struct OrderJob {
  const Case* c = nullptr;
  std::string repair, instead;  ///< names of the best repair and of the best other course; empty: none
  bool can_repair = false;
  bool must_repair = false;  ///< no other course, or none with a price
  /// What the repair costs less than the best other course, its order (net) not counted.
  double value = 0, value_error = 0;
  std::vector<WishedPart> wished;  ///< indices are those of the case
  /// What a failure of a piece costs later, and the share of the device's use of each piece that is needed, by wish.
  struct Places {
    double later_failure = 0;
    std::vector<double> shares;
  };
  std::vector<Places> places;
  std::optional<Stripping> stripping;  ///< absent: it cannot be given up, or holds nothing good
  std::optional<Basket> alone;         ///< the best for itself; absent: cannot be had so
  bool alone_proved = true;
};

/// The contest of a case in this role. A case that has no repair because suppliers refuse low orders is asked again as if
/// other goods took these over their limits: then it has one, but cannot be ordered for itself. `c` must outlive the
/// answer. Threads may ask at the same time, with one cache.
[[nodiscard]] OrderJob order_job(const Case& c, const RateBook& rates, const WeighSettings& settings,
                                 ModelCache& cache);

/// What a piece of that age costs a job more than a new one, in a place with this share of the device's use: the chance,
/// discounted, that it fails before the need or the device ends, less that of a new one, at the cost of a failure then.
/// What follows from that failure is taken to be alike. `wish` is an index into job.wished.
[[nodiscard]] double age_loss(const OrderJob& job, std::size_t wish, double share,
                              const Stripping::Good& good);

}  // namespace mendworth
