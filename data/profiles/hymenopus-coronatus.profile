# SPDX-License-Identifier: GPL-3.0-or-later
# Orchid mantis.
# Stages are moults since hatch; days are at 25 °C. Tags: see DEVELOPERS.md.

[profile]
scientific=Hymenopus coronatus
common=orchid mantis
common_de=Orchideenmantis
group=humid
damp_substrate=true
# Keepers disagree on crickets for this kind: left out unless the keeper wants them.
avoid_prey=cricket
avoid_prey.from=practice

[clock]
t0=12
t0.from=ours
topt=28
topt.from=ours
tflat=30
tflat.from=ours
tmax=38
tmax.from=ours

[development]
# No table was at hand: the general ladder drawn out; a female of seven moults takes 129
# days at 25 °C, a male of five 94.
stage_days=12;12;14;16;19;23;26
stage_days.from=ours
before_subadult_days=24
before_subadult_days.from=ours
subadult_days=32
subadult_days.from=ours
male_factor=1
male_factor.from=ours
# Keepers say five for males, seven for females; the spread is ours.
moults_male=4:.05;5:.75;6:.20
moults_male.from=ours
moults_female=6:.10;7:.75;8:.15
moults_female.from=ours
sd_room=.18
sd_room.from=ours
sd_lot=.10
sd_lot.from=ours
sd_animal=.10
sd_animal.from=ours
sd_stage=.19
sd_stage.from=ours

[size]
adult_male_mm=31
adult_male_mm.from=practice
adult_female_mm=64
adult_female_mm.from=practice
ratio_body=1.28
ratio_body.from=ours
ratio_head=1.20
ratio_head.from=ours

[sex]
male_prior=.5
male_prior.from=ours
readable_from=3
readable_from.from=practice
tegmen_pronotum_male=2.55;.20
tegmen_pronotum_male.from=ours
tegmen_pronotum_female=2.0;.25
tegmen_pronotum_female.from=ours

[care]
feed_m0_1=1;2
feed_m0_1.from=practice
feed_m2_3=2;3
feed_m2_3.from=practice
feed_m4=2;3
feed_m4.from=practice
feed_adult_female=2;3
feed_adult_female.from=practice
feed_adult_male=3;4
feed_adult_male.from=practice
feed_gravid=1;2
feed_gravid.from=practice
mist=1;2
mist.from=practice
clean=7;8
clean.from=practice
touch_m3=1
touch_m3.from=practice
touch_m4=3
touch_m4.from=practice
touch_subadult=4
touch_subadult.from=practice
touch_adult=7
touch_adult.from=practice
food_m3=1;1
food_m3.from=practice
food_m4=2;2
food_m4.from=practice
food_subadult=2;2
food_subadult.from=practice
food_adult=3;4
food_adult.from=practice
subadult_fast_days=10
subadult_fast_days.from=practice
# Apart at the third stage.
split_moults=2
split_moults.from=practice
prey_nymph=.5
prey_nymph.from=practice
prey_adult=1
prey_adult.from=practice

[climate]
day=24;29
day.from=practice
night=19;22
night.from=practice
spot=-;-
spot.from=practice
look_above=32
look_above.from=practice
look_below=17
look_below.from=practice
humidity=60;80
humidity.from=practice

[adult]
# Whole life by keepers: males 5–7, females 8–16 months.
life_male=30;75
life_male.from=ours
life_female=120;240
life_female.from=ours

[cue collar]
# Green in females (brown in some), red-brown in males.
says=either
odds=4
odds.from=ours
from_moults=4
from_moults.from=practice

[cue brow]
# Bump between the eyes: females have one, males are flat.
says=either
odds=4
odds.from=ours
from_moults=4
from_moults.from=practice

[cue leg-lobes]
# Lobes of the hind legs much larger in females.
says=female
odds=2
odds.from=ours
from_moults=4
from_moults.from=practice
