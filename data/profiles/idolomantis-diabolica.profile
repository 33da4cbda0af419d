# SPDX-License-Identifier: GPL-3.0-or-later
# Devil's flower mantis.
# Stages are moults since hatch; days are at 25 °C. Format and tags: see DEVELOPERS.md.

[profile]
scientific=Idolomantis diabolica
common=devil's flower mantis
common_de=Teufelsblume
group=idolomantis
empusid=true
flying_prey_only=true
communal=true

[clock]
t0=14
t0.from=ours
t0.note=A kind of hot days: the whole curve stands higher than for hardy kinds.
t0.note_de=Eine Art heißer Tage: Die ganze Kurve steht höher als bei robusten Arten.
topt=33
topt.from=ours
tflat=36
tflat.from=ours
tmax=44
tmax.from=ours

[development]
stage_days=16;16;18;20;24;28;32
stage_days.from=ours
stage_days.note=At 25 °C, which is cool for this kind; no table was at hand.
stage_days.note_de=Bei 25 °C, was für diese Art kühl ist; es lag keine Tafel vor.
before_subadult_days=34
before_subadult_days.from=ours
subadult_days=50
subadult_days.from=ours
male_factor=1
male_factor.from=ours
moults_male=6:.15;7:.70;8:.15
moults_male.from=ours
moults_male.note=Keepers say seven for males, eight for females; the spread is ours.
moults_male.note_de=Halter nennen sieben für Männchen, acht für Weibchen; die Streuung ist unsere.
moults_female=7:.20;8:.70;9:.10
moults_female.from=ours
moults_female.note=Keepers say seven for males, eight for females; the spread is ours.
moults_female.note_de=Halter nennen sieben für Männchen, acht für Weibchen; die Streuung ist unsere.
sd_room=.18
sd_room.from=ours
sd_lot=.10
sd_lot.from=ours
sd_animal=.10
sd_animal.from=ours
sd_stage=.19
sd_stage.from=ours

[size]
adult_male_mm=100
adult_male_mm.from=practice
adult_female_mm=120
adult_female_mm.from=practice
ratio_body=1.29
ratio_body.from=measured:faber
ratio_head=1.20
ratio_head.from=ours

[sex]
male_prior=.5
male_prior.from=ours
readable_from=4
readable_from.from=practice
plates_male=8
plates_male.from=practice
plates_female=6
plates_female.from=practice
plates_female.other=7
plates_female.other.from=practice
plates_female.note=Texts count six or seven plates in females, eight in males, or appendages.
plates_female.note_de=Texte zählen sechs oder sieben Platten bei Weibchen, acht bei Männchen oder Anhänge.
appendages_male=6
appendages_male.from=practice
appendages_male.note=Belly appendages: one more in males.
appendages_male.note_de=Anhänge am Bauch: bei Männchen einer mehr.
appendages_female=5
appendages_female.from=practice
count_doubtful=true
tegmen_pronotum_male=2.55;.20
tegmen_pronotum_male.from=ours
tegmen_pronotum_female=2.0;.25
tegmen_pronotum_female.from=ours

[care]
feed_m0_1=1;2
feed_m0_1.from=practice
feed_m2_3=1;2
feed_m2_3.from=practice
feed_m4=2;3
feed_m4.from=practice
feed_adult_female=2;3
feed_adult_female.from=practice
feed_adult_male=2;3
feed_adult_male.from=practice
feed_gravid=1;2
feed_gravid.from=practice
mist=1;2
mist.from=practice
clean=7;8
clean.from=practice
touch_m3=2
touch_m3.from=practice
touch_m4=3
touch_m4.from=practice
touch_subadult=5
touch_subadult.from=practice
touch_adult=7
touch_adult.from=practice
food_m3=1;1
food_m3.from=practice
food_m4=2;2
food_m4.from=practice
food_subadult=2;2
food_subadult.from=practice
food_adult=4;4
food_adult.from=practice
subadult_fast_days=14
subadult_fast_days.from=practice
split_moults=6
split_moults.from=practice
split_moults.note=The young bear company; apart for the last moults.
split_moults.note_de=Junge vertragen Gesellschaft; für die letzten Häutungen trennen.
prey_nymph=.5
prey_nymph.from=practice
prey_adult=1
prey_adult.from=practice

[climate]
day=27;32
day.from=practice
day.other=29;35
day.other.from=practice
day.note=The cup by day 27–32 °C; one sheet says 29–35 °C.
day.note_de=Im Heim am Tag 27–32 °C; ein Blatt nennt 29–35 °C.
night=18;22
night.from=practice
spot=34;36
spot.from=practice
look_above=38
look_above.from=practice
look_below=15
look_below.from=practice
humidity=40;60
humidity.from=practice
humidity.other=50;90
humidity.other.from=practice
humidity.note=40–60 %, more around a moult; one sheet says 50–90 %.
humidity.note_de=40–60 %, um eine Häutung mehr; ein Blatt nennt 50–90 %.

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
incubation=35;56
incubation.from=practice
young=30;60
young.from=practice
guards=false
rest=false

[cue antennae]
says=either
odds=50
odds.from=ours
from_moults=0
from_moults.from=practice
from_moults.note=Feathered in adult males, thread-like in females.
from_moults.note_de=Bei erwachsenen Männchen gefiedert, bei Weibchen fadenförmig.
adult_only=true

[sources]
faber=Faber 1994, J. Zool. (London), doi 10.1111/j.1469-7998.1994.tb01568.x: mean length ratio between successive instars of mantises 1.29 (an average over mantises, not of this species)
