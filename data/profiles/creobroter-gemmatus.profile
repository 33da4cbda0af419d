# SPDX-License-Identifier: GPL-3.0-or-later
# Jewelled flower mantis.
# Stages are moults since hatch; days are at 25 °C. Format and tags: see DEVELOPERS.md.

[profile]
scientific=Creobroter gemmatus
common=jewelled flower mantis
common_de=Indische Blütenmantis
group=humid

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
stage_days=10;10;12;14;16;18
stage_days.from=practice
stage_days.note=Within the ranges that keepers use at 25–28 °C.
stage_days.note_de=In den Spannen, mit denen Halter bei 25–28 °C rechnen.
before_subadult_days=18
before_subadult_days.from=practice
subadult_days=24
subadult_days.from=practice
male_factor=1
male_factor.from=ours
moults_male=5:.10;6:.70;7:.20
moults_male.from=ours
moults_male.note=Keepers say six for males, seven for females, six to eight in all; the spread is ours.
moults_male.note_de=Halter nennen sechs für Männchen, sieben für Weibchen, insgesamt sechs bis acht; die Streuung ist unsere.
moults_female=6:.10;7:.65;8:.25
moults_female.from=ours
moults_female.note=Keepers say six for males, seven for females, six to eight in all; the spread is ours.
moults_female.note_de=Halter nennen sechs für Männchen, sieben für Weibchen, insgesamt sechs bis acht; die Streuung ist unsere.
sd_room=.18
sd_room.from=ours
sd_lot=.10
sd_lot.from=ours
sd_animal=.10
sd_animal.from=ours
sd_stage=.19
sd_stage.from=ours

[size]
adult_male_mm=35
adult_male_mm.from=practice
adult_male_mm.other=50
adult_male_mm.other.from=practice
adult_male_mm.note=One sheet makes the male 10 mm longer than the female.
adult_male_mm.note_de=Ein Blatt macht das Männchen 10 mm länger als das Weibchen.
adult_female_mm=43
adult_female_mm.from=practice
adult_female_mm.other=40
adult_female_mm.other.from=practice
adult_female_mm.note=Most make the female the longer sex, one sheet the male.
adult_female_mm.note_de=Die meisten nennen das Weibchen länger, ein Blatt das Männchen.
ratio_body=1.29
ratio_body.from=measured:faber
ratio_head=1.20
ratio_head.from=ours

[sex]
male_prior=.5
male_prior.from=ours
readable_from=3
readable_from.from=practice
plates_male=8
plates_male.from=practice
plates_female=6
plates_female.from=practice
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
mist.other=2;3
mist.other.from=practice
mist.note=Daily and lightly for humid kinds; three or four times a week in one sheet.
mist.note_de=Für feuchte Arten täglich und leicht; in einem Blatt drei- bis viermal die Woche.
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
split_moults=3
split_moults.from=practice
split_moults.other=-1
split_moults.other.from=practice
split_moults.note=The young bear company; whether adults do is disputed.
split_moults.note_de=Junge vertragen Gesellschaft; ob Erwachsene, ist umstritten.
prey_nymph=.5
prey_nymph.from=practice
prey_adult=1
prey_adult.from=practice

[climate]
day=22;28
day.from=practice
night=18;20
night.from=practice
spot=-;-
spot.from=practice
look_above=32
look_above.from=practice
look_below=16
look_below.from=ours
humidity=60;70
humidity.from=practice

[adult]
receptive_male=10;40
receptive_male.from=practice
receptive_female=14;35
receptive_female.from=practice
life_male=30;90
life_male.from=practice
life_female=90;240
life_female.from=practice

[eggs]
incubation=28;42
incubation.from=practice
young=40;100
young.from=practice
guards=false
rest=false

[sources]
faber=Faber 1994, J. Zool. (London), doi 10.1111/j.1469-7998.1994.tb01568.x: mean length ratio between successive instars of mantises 1.29 (an average over mantises, not of this species)
