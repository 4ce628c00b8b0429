#include <fmt/format.h>

#include <string>
#include <vector>

#include "input/starter_comments.hpp"
#include "input/suggest.hpp"
#include "mendworth/rates.hpp"
#include "mendworth/read_case.hpp"

namespace mendworth {

namespace {

constexpr const char* smallest =
    R"case(# A case for mendworth: what is broken, what mending it takes, what a new one costs.
# Any number may be a range: { low = 2, high = 6 } or { low = 2, likely = 4, high = 9 }.
# What is left out is taken from trade figures and listed with the answer; 'mendworth new --every-key' shows every key.

[device]
name = "Kitchen radio"
currency = "EUR"
age_years = 6
use_per_day = 120              # presses of the busiest button
# hazards = ["mains"]          # what is dangerous inside: the classes are listed below

[[position]]                   # where wear parts sit; equal ones together
name = "station buttons"
part = "button"
count = 5
failed = 1

[[part]]
name = "button"
class = "tactile-switch"       # how long one lasts: the classes are listed below
[[part.offer]]
price = 0.45

[[supplier]]
name = "parts by post"
shipping = 4.90

[labour]
rate_per_hour = 12             # 0 if own time counts as free
# The minutes decide as much as the prices; left out, they are those of the trade.
case_minutes = { low = 10, likely = 20, high = 40 }   # once: find the fault, find and order the part
visit_minutes = { low = 15, likely = 25, high = 45 }  # per opening: open, clean, test, close

[[replacement]]                # price = "unknown" if none is sold any more
name = "the same, new"
price = 160
life_years = 7

# [risk]                       # take the marks away where the fault may lie elsewhere
# diagnosis_right = 0.7        # the chance that the new part cures the device

)case";

constexpr const char* full =
    R"case(# A case for mendworth that shows every key. Delete what does not matter: only the keys marked * are needed.
# Any number may be a range: { low = 2, high = 6 } (all equally likely) or { low = 2, likely = 4, high = 9 };
# spread = "triangular" in a range of three points chooses that distribution, otherwise it is the beta of planning.
# Money is in the device's currency unless said otherwise; chances, shares and taxes are fractions (20 % is 0.2).

[device]
name = "Kitchen radio"
kind = "radio"
currency = "EUR"
age_years = { low = 5, likely = 6, high = 8 }
# life_years = 9
bought_used_years_ago = 2
use_per_day = 120
hours_per_day = 2
hazards = ["mains", "solder-fume"]
must_keep = false
guarantee_until = 2026-01-31
guarantee_chance = 0.8
guarantee_days = 14
already_spent = 0
resale = 10
scrap = 0
keepsake = 0

[fault]
cause = "wear"
burden_per_year = 40
common_cause_chance = 0.5
common_cause_years = 0.5

[[position]]
name = "station buttons"
part = "button"
count = 5
failed = 1
renewed = 1
renewed_years_ago = 2
share = 1
termination = "through-hole-4-leg"
minutes = { low = 4, likely = 8, high = 19 }
joints = 4

[[part]]
name = "button"
class = "tactile-switch"
life_unit = "cycles"
rated_life = { low = 100_000, likely = 200_000, high = 500_000 }
failed_at_rated = 0.1
life_spread = 2
shape = 2
shape_spread = 1.3
other_uses_per_year = 0.5
shelf_life_years = 5
spare_resale = 0
dead_on_arrival = 0.005

[[part.dimension]]
name = "stem height"
measured = 4.98
limit = 0.05
below = 0.2
above = 0.1
[[part.dimension]]
name = "body"
measured = 6.0
limit = 0.15
below = 0.3
above = 0.2

[[part.candidate]]
name = "button 6x6, 5 mm"
nominal = { "stem height" = 5.0, body = 6.1 }
fit = 0.95
dead_on_arrival = 0.002
[[part.candidate.offer]]
supplier = "parts by post"
prices = [
  { from = 1, each = 0.45 },
  { from = 10, each = 0.36 },
]
least = 1
multiple = 1
stock = 400
line_fee = 0

[[part.candidate]]
name = "button 6x6, long life"
class = "tactile-switch"
life_unit = "cycles"
rated_life = 1_000_000
failed_at_rated = 0.1
life_spread = 2
shape = 2
shape_spread = 1.3
fit = 0.8
[[part.candidate.offer]]
supplier = "parts from abroad"
price = 0.60
least = 5
multiple = 5

[[supplier]]
name = "parts by post"
shipping = [
  { goods_from = 0, price = 4.90 },
  { goods_from = 40, price = 0 },
]
low_order_below = 10
low_order_fee = 3
refuses_low_orders = false
tax = 0.2
lead_days = { low = 1, likely = 2, high = 5 }
other_goods = 0

[[supplier]]
name = "parts from abroad"
currency = "USD"
exchange_rate = { low = 0.85, likely = 0.9, high = 0.97 }
exchange_fee = 0.02
shipping = 9
tax = 0.2
duty = 0.03
duty_free_up_to = 150
duty_on_shipping = true
customs_fee = 6
lead_days = { low = 7, likely = 12, high = 30 }

[labour]
rate_per_hour = 12
case_minutes = { low = 10, likely = 20, high = 40 }
visit_minutes = { low = 15, likely = 25, high = 45 }
position_minutes = 8
skill = "careful-amateur"
learning_rate = 0.9
learning_floor = 0.55
done_before = 3

[risk]
opening_mendable = 0.03
opening_write_off = 0.007
joint_mendable = 0.008
joint_write_off = 0.002
mend_minutes = { low = 10, likely = 20, high = 60 }
mend_money = 1
diagnosis_right = 0.9
dead_found_after_closing = 0.1
misfit_found = "dry"
dry_fit_minutes = 3

[risk.second_attempt]
minutes = 45
money = 2
chance = 0.5

[[consumable]]
name = "adhesive feet"
price = 1.50
chance = 0.4

[[replacement]]
name = "the same, new"
currency = "USD"
exchange_rate = 0.92
price = 175
tax = 0
shipping = 5
life_years = { low = 4, likely = 7, high = 12 }
alike = true
life_shape = 2
setup_minutes = 10
benefit_per_year = 0
resale = 15
delivery_days = 3

[rest]
remaining_years = { low = 2, likely = 4, high = 8 }
shape = 2

[downtime]
per_day = 0.50
bench_days = 1

[horizon]
years = 7
discount_rate = 0.03

[licensed_repair]
price = 60
chance = 0.95
days = 7
minutes = 0

[bulk]
devices = 40
failed = 9
years = 4
order_cost = 5
carrying_rate = 0.2
shortage_cost = 15
repair_days = 5
cover = 0.95
# jobs_per_month = { low = 2, likely = 4, high = 8 }
# pieces_per_job = 1

[intake]
customer = ["A. Customer", "1 Example Street"]
serial = "KR-0042"
condition = "Scratched lid, mains lead sound"
fault = "The first station button answers to hard presses only."
not_included = ["The tuning scale is not lit again."]
accessories = ["Mains lead"]
paid = 0
rush = false
collection = false
parts_from_customer = false

[[what_if]]
name = "a dearer new one, a slow hand"
replacement.price = "+20 %"
labour.visit_minutes = "x 1.5"

[rows]
age = "device.age_years"
"price of a new one" = "replacement.price"
)case";

}  // namespace

std::string starter_case(bool every_key) {
  if (every_key) return input::commented(full, case_inputs());
  const RateBook& rates = built_in_rates();
  std::vector<std::string> own, licensed;
  for (const auto& [name, hazard] : rates.hazards) (hazard.licensed_only ? licensed : own).push_back(name);
  return smallest +
         input::comment(fmt::format("Classes of parts: {}.", fmt::join(input::names_of(rates.lives), ", "))) +
         input::comment(fmt::format("Hazards: {}; and, not for one's own hands: {}.", fmt::join(own, ", "),
                                    fmt::join(licensed, ", ")));
}

}  // namespace mendworth
