#pragma once

#include <map>
#include <memory>
#include <vector>

#include "model/items.hpp"
#include "model/life_posterior.hpp"
#include "model/plan.hpp"
#include "numeric/sampler.hpp"

namespace mendworth {

/// Changes that are asked about but are no entry of the case.
struct Hypothesis {
  double mate_wear = 1.0;  ///< on the wear of surviving originals, past and to come
};

/// Keeps what is dear to make between models that differ in one number.
class ModelCache {
 public:
  [[nodiscard]] std::shared_ptr<const LifePosterior> posterior(const LifePrior& prior,
                                                               const std::vector<WearEvidence>& evidence,
                                                               double z_low, double z_high);
  [[nodiscard]] std::shared_ptr<const Sampler> sampler(const Quantity& quantity);

 private:
  struct PosteriorEntry {
    LifePrior prior;
    std::vector<WearEvidence> evidence;
    double z_low, z_high;
    std::shared_ptr<const LifePosterior> value;
  };
  std::vector<PosteriorEntry> posteriors_;
  std::vector<std::pair<Quantity, std::shared_ptr<const Sampler>>> samplers_;
};

/// The device as a thing that wears, ready to be run: a checked case with everything worked out that does not change
/// from future to future. Immutable; threads share it.
struct DeviceModel {
  Case c{};
  Hypothesis hypothesis{};
  ItemLayout layout{};
  std::vector<Position> positions{};

  /// Evidence about the originals of each part; null where the part has none of them left and none failed.
  std::vector<std::shared_ptr<const LifePosterior>> posteriors{};
  std::vector<std::vector<WearEvidence>> evidence{};

  struct Uncertain {
    int ordinal = 0;  ///< in the order of for_each_quantity: picks the random number
    std::shared_ptr<const Sampler> sampler;
    bool is_price = false;  ///< bears on unit costs only
  };
  std::vector<Uncertain> uncertain{};
  bool price_uncertain = false;     ///< some range is a price, a time or a rate
  bool purchase_uncertain = false;  ///< some range bears on orders

  [[nodiscard]] static DeviceModel make(const Case& c, const Hypothesis& hypothesis, ModelCache& cache);
};

/// Use a year in the unit of a part's life, at base, by the busiest position.
[[nodiscard]] double use_per_year(const Device& device, LifeUnit unit);

/// Whether a key bears on unit costs only, so that futures need not be run again when it changes.
[[nodiscard]] bool is_price_key(const std::string& key);
/// Whether a key bears on what an order costs.
[[nodiscard]] bool is_purchase_key(const std::string& key);

}  // namespace mendworth
