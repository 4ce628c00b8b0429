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
# The minutes decide as much as the prices. Without these two they are those of the trade:
# case_minutes = { low = 30, likely = 60, high = 120 }  # once: find the fault, find and order the part
# visit_minutes = { low = 20, likely = 35, high = 70 }  # per opening: open, clean, test, close

[[replacement]]                # price = "unknown" if none is sold any more
name = "the same, new"
price = 85
life_years = 7

# [risk]                       # take the marks away where the fault may lie elsewhere
# diagnosis_right = 0.7        # the chance that the new part cures the device

# Classes of parts: audio-jack, ball-bearing-fan, barrel-socket, carbon-potentiometer, conductive-potentiometer,
# electrolytic-capacitor, flex-connector, lithium-cell, membrane-key, micro-usb-receptacle, relay, rocker-switch,
# rotary-encoder, rubber-dome, sleeve-fan, slide-potentiometer, slide-switch, snap-action-switch,
# studio-slide-potentiometer, tactile-switch, thumb-stick, toggle-switch, usb-a-receptacle, usb-c-receptacle,
# usb-mini-receptacle, wire-to-board-connector.
# Hazards: charged-capacitor, flash-tube, hot-work, lead, lithium-cell, mains, personal-data, sharp-edges, solder-fume,
# solvent; and, not for one's own hands: aviation, cathode-ray-tube, cell-pack, fixed-mains-wiring, gas, laser,
# life-safety, medical, microwave-oven, refrigerant, vehicle-brakes.
)case";

constexpr const char* full =
    R"case(# A case for mendworth that shows every key. Delete what does not matter: only the keys marked * are needed.
# Any number may be a range: { low = 2, high = 6 } (all equally likely) or { low = 2, likely = 4, high = 9 };
# spread = "triangular" in a range of three points chooses that distribution, otherwise it is the beta of planning.
# Money is in the device's currency unless said otherwise; chances, shares and taxes are fractions (20 % is 0.2).

[device]
name = "Kitchen radio"         # *
kind = "radio"                 # 'mendworth rates' lists them: how long one lasts, where nothing below says so
currency = "EUR"               # * ISO 4217 code
age_years = { low = 5, likely = 6, high = 8 }  # * how old it is
# life_years = 9               # mean life of a new one, instead of rest.remaining_years
bought_used_years_ago = 2      # it worked then; leave out if it was bought new
use_per_day = 120              # * operations of the busiest position, where a life is in cycles
hours_per_day = 2              # * hours on, where a life is in hours
hazards = ["mains", "solder-fume"]  # 'mendworth rates' lists the classes
must_keep = false              # true: replacing is no option
guarantee_until = 2026-01-31   # last day of a guarantee
guarantee_chance = 0.8         # that a claim is met
guarantee_days = 14            # how long a claim takes
already_spent = 0              # shown, never counted
resale = 10                    # of the working device when the need ends
scrap = 0                      # for the broken device; negative: a fee for its disposal
keepsake = 0                   # what this very device is worth beyond its use

[fault]
cause = "wear"                 # wear, blow, spill or bad-joint: only wear speaks about the other positions
burden_per_year = 40           # what living with the fault costs; leave it out if it cannot be left as it is
common_cause_chance = 0.5      # after a spill: that it reached the other positions too
common_cause_years = 0.5       # after a spill: mean time until those fail together

[[position]]                   # * positions that are alike: same part, same use, same work
name = "station buttons"       # *
part = "button"                # * the name of a [[part]]
count = 5
failed = 1                     # * at least one in the case
renewed = 1                    # working ones that were renewed earlier
renewed_years_ago = 2          # * where renewed is stated
share = 1                      # of the busiest position's use
termination = "through-hole-4-leg"  # how it is attached: gives minutes and joints
minutes = { low = 4, likely = 8, high = 19 }  # hands-on for one: take off, clean, fit
joints = 4                     # soldered or latched joints worked on, for one

[[part]]                       # *
name = "button"                # *
class = "tactile-switch"       # * gives the life; or state rated_life and life_unit
life_unit = "cycles"           # cycles, hours or years
rated_life = { low = 100_000, likely = 200_000, high = 500_000 }
failed_at_rated = 0.1          # the share that has failed at the rated life
life_spread = 2                # the true life lies within this factor in 68 % of cases
shape = 2                      # Weibull: 1 chance, 2 usual wear, above 4 rapid wear-out
shape_spread = 1.3
other_uses_per_year = 0.5      # pieces that other jobs would take from the spares
shelf_life_years = 5           # of a spare
spare_resale = 0               # of an unused piece
dead_on_arrival = 0.005        # chance that a new piece is dead, unless the candidate says otherwise

[[part.dimension]]             # measured on the old piece or its place; millimetres
name = "stem height"           # *
measured = 4.98                # *
limit = 0.05                   # * greatest error of the measurement; by hand on soft plastic 0.1 to 0.2
below = 0.2                    # * a piece may be smaller than the true size by so much,
above = 0.1                    # * or larger by so much; one of the two will do
[[part.dimension]]
name = "body"
measured = 6.0
limit = 0.15
below = 0.3
above = 0.2

[[part.candidate]]             # * things that serve as this part; or offers directly: [[part.offer]]
name = "button 6x6, 5 mm"      # *
nominal = { "stem height" = 5.0, body = 6.1 }  # catalogued sizes by dimension, in mm
fit = 0.95                     # chance that it fits in all else; without dimensions, at all
dead_on_arrival = 0.002
[[part.candidate.offer]]       # *
supplier = "parts by post"     # * where there is more than one
prices = [                     # * or price = 0.45 for any quantity; in the supplier's currency
  { from = 1, each = 0.45 },
  { from = 10, each = 0.36 },
]
least = 1                      # least quantity
multiple = 1                   # order multiple
stock = 400
line_fee = 0                   # for this line of an order, whatever its quantity

[[part.candidate]]             # a candidate's life may differ from the part's: the same keys
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

[[supplier]]                   # *
name = "parts by post"         # *
shipping = [                   # * or one number
  { goods_from = 0, price = 4.90 },
  { goods_from = 40, price = 0 },
]
low_order_below = 10           # value of goods
low_order_fee = 3
refuses_low_orders = false
tax = 0.2                      # on goods, shipping, fees and duty; 0 where prices include it
lead_days = { low = 1, likely = 2, high = 5 }
other_goods = 0                # goods for other jobs on the same order

[[supplier]]
name = "parts from abroad"
currency = "USD"
exchange_rate = { low = 0.85, likely = 0.9, high = 0.97 }  # * one of its currency in the device's
exchange_fee = 0.02            # of the bank or card
shipping = 9
tax = 0.2
duty = 0.03
duty_free_up_to = 150          # customs value, in the supplier's currency
duty_on_shipping = true        # shipping is part of the customs value
customs_fee = 6                # the carrier's, when duty is due
lead_days = { low = 7, likely = 12, high = 30 }

[labour]
rate_per_hour = 12             # * 0 if own time counts as free
case_minutes = { low = 30, likely = 60, high = 120 }  # once: diagnosis, finding the part, ordering
visit_minutes = { low = 20, likely = 35, high = 70 }  # per opening: open, clean, test, close, hand over
position_minutes = 8           # per position, where it does not say its own
skill = "careful-amateur"      # 'mendworth rates' lists them
learning_rate = 0.9            # of the time is left when the count doubles; 1: none
learning_floor = 0.55          # least share of the first time
done_before = 3                # positions of this kind already renewed

[risk]                         # chances of damage, by default from the skill
opening_mendable = 0.03        # per opening
opening_write_off = 0.007
joint_mendable = 0.008         # per joint
joint_write_off = 0.002
mend_minutes = { low = 10, likely = 20, high = 60 }
mend_money = 1
diagnosis_right = 0.9          # the visit cures the device
dead_found_after_closing = 0.1 # share of dead pieces that show only then
misfit_found = "dry"           # or "after-closing"; or misfit_found_after_closing = 0.25, a share
dry_fit_minutes = 3            # spent on a misfit that a dry fit shows

[risk.second_attempt]          # if the first visit does not cure; without it the device is then replaced
minutes = 45                   # *
money = 2
chance = 0.5                   # *

[[consumable]]                 # what an opening uses up
name = "adhesive feet"         # *
price = 1.50                   # *
chance = 0.4                   # that they are needed

[[replacement]]                # * unless must_keep
name = "the same, new"         # *
price = 85                     # * or "unknown" if none is sold any more
tax = 0                        # added to price and shipping; 0 where they include it
shipping = 5
life_years = { low = 4, likely = 7, high = 12 }  # * mean life
alike = true                   # a new one of the device's own kind: it lasts as long
life_shape = 2                 # Weibull
setup_minutes = 10             # programming, labelling, learning
benefit_per_year = 0           # worth of what it does better
resale = 15                    # when the need ends, if it still works
delivery_days = 3

[rest]                         # everything of the device but the positions
remaining_years = { low = 2, likely = 4, high = 8 }  # mean, from now
shape = 2

[downtime]
per_day = 0.50                 # what a day without the device costs
bench_days = 1                 # days that a visit takes beside the wait for parts

[horizon]
years = 7                      # until the need ends; without it the need goes on
discount_rate = 0.03           # real, per year

[licensed_repair]              # what a licensed person or qualified place asks
price = 60                     # * all in
chance = 0.95
days = 7

[bulk]                         # for 'mendworth bulk' alone: a fleet of equal devices, or a shop (jobs_per_month)
devices = 40                   # * of the fleet, this one included
failed = 9                     # of these: have a failed part now
years = 4                      # until when
order_cost = 5                 # to place and book an order; or order_minutes
carrying_rate = 0.2            # cost of keeping stock, a share of its value a year
shortage_cost = 15             # of a piece that is missing
repair_days = 5                # turnaround of a unit
cover = 0.95                   # wanted chance that stock or spare units suffice
# jobs_per_month = { low = 2, likely = 4, high = 8 }  # a shop instead of devices and failed
# pieces_per_job = 1           # of a shop

[intake]                       # for 'mendworth quote' alone: what a shop notes down when it takes the device in
customer = ["A. Customer", "1 Example Street"]  # name and address, a line each
serial = "KR-0042"
condition = "Scratched lid, mains lead sound"
fault = "The first station button answers to hard presses only."  # otherwise from the failed positions
not_included = ["The tuning scale is not lit again."]  # what will not be done
rush = false                   # to be done before its turn
collection = false             # fetched and brought back
parts_from_customer = false    # the customer brings the parts
)case";

}  // namespace

std::string starter_case(bool every_key) { return every_key ? full : smallest; }

}  // namespace mendworth
