#pragma once

#include <cstdint>
#include <memory>
#include <mutex>
#include <vector>

#include "model/chain_course.hpp"
#include "model/fit.hpp"
#include "model/life_posterior.hpp"
#include "model/plan.hpp"
#include "model/wear_law.hpp"
#include "numeric/sampler.hpp"

namespace mendworth {

/// Changes that are asked about but are no entry of the case.
struct Hypothesis {
  double mate_wear = 1.0;    ///< on the wear of surviving originals, past and to come
  bool no_evidence = false;  ///< forget what the device's own parts have told
};

struct DeviceModel;

/// What is known of the originals' life of one part: the posterior, and how well each life fits the evidence.
struct PartLife {
  std::shared_ptr<const LifePosterior> posterior;
  double z_low = 0, z_step = 0;
  std::vector<double> log_fit;  ///< of the evidence at evenly spaced z, at most 0; empty where z is certain

  /// ln of the evidence's likelihood at z, over its greatest within the range.
  [[nodiscard]] double log_fit_at(double z) const noexcept;
};

/// Keeps what is dear to make between models that differ in some numbers, a limited amount of it. Threads may share one:
/// what two of them want at the same time may be made twice, and is the same.
class ModelCache {
 public:
  [[nodiscard]] std::shared_ptr<const PartLife> life(const LifePrior& prior,
                                                     const std::vector<WearEvidence>& evidence, double z_low,
                                                     double z_high);
  [[nodiscard]] std::shared_ptr<const Sampler> sampler(const Quantity& quantity);
  [[nodiscard]] std::shared_ptr<const ChainCourse> chain_course(const Replacement& r,
                                                                const std::optional<Quantity>& need,
                                                                double rate);
  /// The law of age, use and lives of a model that is finished but for it.
  [[nodiscard]] std::shared_ptr<const WearLaw> wear(const DeviceModel& model);

 private:
  std::mutex mutex_;  // guards what follows, not the making
  struct LifeEntry {
    LifePrior prior;
    std::vector<WearEvidence> evidence;
    double z_low, z_high;
    std::shared_ptr<const PartLife> value;
  };
  std::vector<LifeEntry> lives_;
  std::vector<std::pair<Quantity, std::shared_ptr<const Sampler>>> samplers_;
  struct ChainEntry {
    Quantity life, shape;
    std::optional<Quantity> need;
    double rate;
    std::shared_ptr<const ChainCourse> value;
  };
  std::vector<ChainEntry> chains_;
  struct WearEntry {
    std::vector<Quantity> wear;  // age, use, hours, rated lives
    std::vector<std::shared_ptr<const PartLife>> lives;
    std::shared_ptr<const WearLaw> value;
  };
  std::vector<WearEntry> wears_;
};

/// The device as a thing that wears, ready to be run: a checked case with everything worked out that does not change
/// from future to future. Immutable; threads share it.
struct DeviceModel {
  Case c{};
  Hypothesis hypothesis{};
  std::vector<Position> positions{};

  std::vector<std::shared_ptr<const PartLife>> lives{};  ///< per part
  std::vector<std::vector<WearEvidence>> evidence{};     ///< per part
  int failures_by_wear = 0;                              ///< of all parts

  /// Per candidate, numbered over all parts (a part without any counts as one, which fits): the true dimensions that
  /// it fits; empty where none is measured.
  std::vector<std::vector<FitWindow>> windows{};

  struct Uncertain {
    int ordinal = 0;  ///< in the order of for_each_quantity
    /// Its random number: by the name of the entry alone, so that entries added elsewhere change nobody's luck.
    std::uint64_t block = 0;
    int lane = 0;
    std::shared_ptr<const Sampler> sampler{};
    bool is_price = false;       ///< bears on unit costs only
    bool bears_on_wear = false;  ///< age, use or rated life: the evidence speaks about it
  };
  std::vector<Uncertain> uncertain{};  ///< those that bear on wear first, prices last
  /// Of the entries that bear on wear; null where none is uncertain.
  std::shared_ptr<const WearLaw> wear{};
  bool price_uncertain = false;     ///< some range is a price, a time or a rate
  bool purchase_uncertain = false;  ///< some range bears on orders

  [[nodiscard]] static DeviceModel make(const Case& c, const Hypothesis& hypothesis, ModelCache& cache);
};

/// Use a year in the unit of a part's life, at base, by the busiest position.
[[nodiscard]] double use_per_year(const Device& device, LifeUnit unit);

}  // namespace mendworth
